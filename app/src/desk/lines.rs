//! Lines of paper in the window that ask or tell something. None of them stops
//! the work: what they ask can be left open.

use egui::{Id, Label, Ui};

use super::theme::Paper;

/// A strip of paper within the window.
pub fn sheet(ui: &mut Ui, content: impl FnOnce(&mut Ui)) {
    let paper = Paper::current(ui.ctx());
    egui::Frame::new()
        .fill(paper.sheet)
        .stroke(egui::Stroke::new(1.5, paper.ink))
        .inner_margin(egui::Margin::symmetric(8, 5))
        .show(ui, |ui| {
            ui.horizontal_wrapped(content);
        });
}

/// A line with a few answers; the one that was given.
pub fn question_ui<T: Copy>(ui: &mut Ui, text: &str, answers: &[(&str, T)]) -> Option<T> {
    let mut given = None;
    sheet(ui, |ui| {
        ui.add(Label::new(text).wrap());
        for (at, (word, answer)) in answers.iter().enumerate() {
            let button = ui.button(*word);
            if at == 0 && is_wanted(ui.ctx()) {
                button.request_focus();
            }
            if button.clicked() {
                given = Some(*answer);
            }
        }
    });
    given
}

/// Puts the keyboard into the first line that asks something: on its first
/// answer, or in its field.
pub fn want(ctx: &egui::Context) {
    ctx.data_mut(|data| data.insert_temp(wanted(), true));
    ctx.request_repaint();
}

/// Forgets that, once a frame has had the chance.
pub fn had(ctx: &egui::Context) {
    ctx.data_mut(|data| data.remove_temp::<bool>(wanted()));
}

/// Whether a line that asks something is to take the keyboard; said once.
pub fn is_wanted(ctx: &egui::Context) -> bool {
    ctx.data_mut(|data| data.remove_temp::<bool>(wanted()))
        .unwrap_or(false)
}

fn wanted() -> Id {
    Id::unique("the keyboard is wanted in a line")
}

/// So long ago, in words.
pub fn ago(at: std::time::SystemTime) -> String {
    let seconds = at.elapsed().unwrap_or_default().as_secs();
    let (count, word) = match seconds {
        0..60 => return "less than a minute ago".to_owned(),
        60..3600 => (seconds / 60, "minute"),
        3600..172_800 => (seconds / 3600, "hour"),
        _ => (seconds / 86_400, "day"),
    };
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {word}{plural} ago")
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, SystemTime};

    use super::*;

    #[test]
    fn times_are_told_as_one_would() {
        let told = |seconds| ago(SystemTime::now() - Duration::from_secs(seconds));
        assert_eq!(told(5), "less than a minute ago");
        assert_eq!(told(61), "1 minute ago");
        assert_eq!(told(7300), "2 hours ago");
        assert_eq!(told(3 * 86_400 + 5), "3 days ago");
        assert_eq!(ago(SystemTime::now() + Duration::from_secs(60)), told(0));
    }
}
