//! From a job to solids in place.

mod fixed;
mod plugs;
mod unit;

pub use fixed::solids as fixed_solids;
pub(crate) use fixed::{factory_plug_solid, solid as fixed_solid};

use glam::DVec2;

use crate::cavity;
use crate::job::Job;
use crate::layout::Layout;
use crate::measure::{Harm, Reading};

/// Puts every solid of a job in place, the unit at its seat (proud 0).
///
/// * `job`: the job
/// * `reading`: which end of every measure's band to build with
pub fn lay_out(job: &Job, reading: Reading) -> Layout {
    let front = job.cavity.seat_plane.at(reading, Harm::Larger)
        + job.mount.setback.at(reading, Harm::Larger);
    let rear = front + job.unit.depth.at(reading, Harm::Larger);
    let half = 0.5
        * DVec2::new(
            job.unit.width.at(reading, Harm::Larger),
            job.unit.height.at(reading, Harm::Larger),
        );
    let seat = Seat {
        front,
        rear,
        centre: job.unit.offset,
        half,
        reading,
    };
    let rings = cavity::rings(&job.cavity, reading);
    let mut sliding = unit::pieces(job, &seat);
    sliding.extend(plugs::solids(job, &seat));
    Layout {
        fixed: fixed::solids(job, reading),
        walls: cavity::walls(&rings, job.cavity.closed),
        sliding,
        turns: plugs::turn_rooms(job, &seat),
        cables: plugs::cable_starts(job, &seat),
        chassis_front: front,
        chassis_rear: rear,
        chassis_face: [seat.centre - half, seat.centre + half],
        opening_half: cavity::opening_half(&job.cavity.opening, reading),
    }
}

/// Where the chassis is when it is home.
struct Seat {
    /// Depth of its front, mm.
    front: f64,
    /// Depth of its rear, mm.
    rear: f64,
    /// Its centre (across, up), mm.
    centre: DVec2,
    /// Half its width and height, mm.
    half: DVec2,
    /// The reading it was built with.
    reading: Reading,
}
