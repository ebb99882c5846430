//! Where the lines of a mesh lie along one direction.

/// A place where a line has to lie, and how far apart lines may be there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    /// mm.
    pub at: f64,
    /// mm.
    pub size: f64,
}

/// Marks nearer than this become one, mm: slivers of elements would cost
/// accuracy, while the wall of a notch keeps its shape wherever lines lie.
const TOGETHER: f64 = 0.02;

/// How fast steps may grow away from a mark that asks for small ones.
const GROWTH: f64 = 0.35;

/// Lines through all marks, their steps growing evenly from mark to mark.
/// `halvings` times, every step is cut into two that grow the same way, so that
/// the lines of a mesh are among those of the next finer.
pub(super) fn divide(mut marks: Vec<Mark>, halvings: u32) -> Vec<f64> {
    marks.sort_by(|a, b| a.at.total_cmp(&b.at));
    let end = marks[marks.len() - 1].at;
    marks.dedup_by(|next, kept| {
        let one = next.at - kept.at < TOGETHER;
        if one {
            kept.size = kept.size.min(next.size);
        }
        one
    });
    let last = marks.len() - 1;
    marks[last].at = end;
    let mut lines = vec![marks[0].at];
    for two in marks.windows(2) {
        let (from, to) = (two[0], two[1]);
        let length = to.at - from.at;
        let first = from.size.min(to.size + GROWTH * length);
        let last = to.size.min(from.size + GROWTH * length);
        // Rounding must not add a step: mirror images get the same.
        let steps = (2.0 * length / (first + last) - 1e-9).ceil().max(1.0) as usize;
        let steps = steps << halvings;
        for step in 1..steps {
            let t = step as f64 / steps as f64;
            let share = (first * t + 0.5 * (last - first) * t * t) / (0.5 * (first + last));
            lines.push(from.at + length * share);
        }
        lines.push(to.at);
    }
    lines
}

/// The number of the line nearest a mark.
pub(super) fn line_at(lines: &[f64], at: f64) -> usize {
    let next = lines
        .partition_point(|&line| line < at)
        .min(lines.len() - 1);
    let before = next.saturating_sub(1);
    if at - lines[before] < lines[next] - at {
        before
    } else {
        next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_pass_through_marks_and_halve() {
        let marks = || {
            [(0.0, 8.0), (30.0, 1.0), (34.0, 1.0), (90.0, 20.0)]
                .map(|(at, size)| Mark { at, size })
                .to_vec()
        };
        let coarse = divide(marks(), 0);
        let fine = divide(marks(), 1);
        assert_eq!(fine.len(), 2 * coarse.len() - 1);
        for (number, line) in coarse.iter().enumerate() {
            assert!((fine[2 * number] - line).abs() < 1e-12);
        }
        for mark in marks() {
            assert_eq!(coarse[line_at(&coarse, mark.at)], mark.at);
        }
        assert!(coarse.windows(2).all(|two| two[1] > two[0]));
    }
}
