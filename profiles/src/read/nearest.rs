//! The name that was probably meant.

/// The name nearest to a misspelt one, if one is near enough: at most a third
/// of its letters wrong, missing, added or swapped with a neighbour.
pub(crate) fn nearest<'a>(word: &str, names: &[&'a str]) -> Option<&'a str> {
    let plain = |text: &str| -> Vec<char> {
        text.chars()
            .take(64)
            .map(|c| match c {
                ' ' | '-' => '_',
                c => c.to_ascii_lowercase(),
            })
            .collect()
    };
    let word = plain(word);
    let mut best = None;
    for name in names {
        let steps = steps_between(&word, &plain(name));
        let near = steps == 0 || steps * 3 <= word.len().max(name.len());
        if near && best.is_none_or(|(fewest, _)| steps < fewest) {
            best = Some((steps, *name));
        }
    }
    best.map(|(_, name)| name)
}

/// Letters to change, add, drop or swap with their neighbour to turn one word
/// into the other (optimal string alignment distance).
fn steps_between(a: &[char], b: &[char]) -> usize {
    let width = b.len() + 1;
    let mut rows: Vec<Vec<usize>> = vec![(0..width).collect()];
    for i in 1..=a.len() {
        let mut row = vec![i; width];
        for j in 1..width {
            let change = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = change.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(rows[i - 2][j - 2] + 1);
            }
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 4] = ["width", "height", "corner_radius", "seat_plane"];

    #[test]
    fn a_misspelt_name_finds_its_neighbour() {
        assert_eq!(nearest("widht", &NAMES), Some("width"));
        assert_eq!(nearest("Corner-Radius", &NAMES), Some("corner_radius"));
        assert_eq!(nearest("seatplane", &NAMES), Some("seat_plane"));
        assert_eq!(nearest("heigth", &NAMES), Some("height"));
    }

    #[test]
    fn a_name_of_its_own_finds_none() {
        assert_eq!(nearest("colour", &NAMES), None);
        assert_eq!(nearest("", &NAMES), None);
        assert_eq!(nearest(&"x".repeat(10_000), &NAMES), None);
    }
}
