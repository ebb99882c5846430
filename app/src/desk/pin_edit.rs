//! Changes of the points that a lead is to pass.

use profiles::Length;
use profiles::schema::JobFile;

/// A point as it is written: across, depth, up.
pub type WrittenPoint = [Length; 3];

/// A change of the points that one lead passes.
#[derive(Clone, Debug, PartialEq)]
pub enum PinEdit {
    /// Puts a new point before the one with this number, from 0.
    Add(usize, WrittenPoint),
    /// Moves the point with this number.
    Move(usize, WrittenPoint),
    /// Takes it out.
    Remove(usize),
}

impl PinEdit {
    /// Carries it out on a lead of the job, by its id.
    pub fn apply(self, lead: &str, job: &mut JobFile) {
        let Some(lead) = job.leads.iter_mut().find(|it| it.id == lead) else {
            return;
        };
        let points = &mut lead.through;
        match self {
            PinEdit::Add(at, point) => points.insert(at.min(points.len()), point),
            PinEdit::Move(at, point) => {
                if let Some(place) = points.get_mut(at) {
                    *place = point;
                }
            }
            PinEdit::Remove(at) => {
                if at < points.len() {
                    points.remove(at);
                }
            }
        }
    }
}

/// A place as it is written, to a tenth of a millimetre.
pub fn written(place: glam::DVec3) -> WrittenPoint {
    place
        .to_array()
        .map(|mm| Length::mm((mm * 10.0).round() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    #[test]
    fn points_are_put_in_moved_and_taken_out() {
        let library = profiles::Library::embedded();
        let opened = profiles::open_job(profiles::DEMO, &library).expect("the demo opens");
        let first = opened.file;
        let mut job = first.clone();
        let at = |depth: f64| written(DVec3::new(1.04, depth, -2.0));
        PinEdit::Add(9, at(150.0)).apply("L4", &mut job);
        PinEdit::Add(0, at(140.0)).apply("L4", &mut job);
        PinEdit::Move(1, at(160.0)).apply("L4", &mut job);
        PinEdit::Move(2, at(170.0)).apply("L4", &mut job);
        PinEdit::Add(0, at(0.0)).apply("no such lead", &mut job);
        let lead = job
            .leads
            .iter()
            .find(|it| it.id == "L4")
            .expect("it is there");
        assert_eq!(lead.through, [at(140.0), at(160.0)]);
        assert_eq!(lead.through[0][0].as_written(), "1");
        for _ in 0..2 {
            PinEdit::Remove(0).apply("L4", &mut job);
        }
        assert_eq!(job, first);
    }
}
