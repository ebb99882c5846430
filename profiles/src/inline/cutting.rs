//! How the shop cuts, with every default in its place.

use geometry::{Cutting, Strip, Tool, Works};
use glam::DVec2;

/// What is taken where the file says nothing: common practice, no source.
pub fn usual() -> Cutting {
    Cutting {
        tool: Tool {
            name: "oscillating saw".to_owned(),
            works: Works::EndFirst,
            shank: DVec2::new(60.0, 60.0),
            reach: 45.0,
            kerf: 1.6,
            blade: DVec2::new(20.0, 1.6),
            behind: 5.0,
        },
        stop_hole: 8.0,
        edge_trim: 0.5,
        snap: 1.0,
        keep_stiffness: 0.6,
        asked: false,
        left_alone: Vec::new(),
        strip: Strip {
            thickness: 3.0,
            height: 25.0,
            lap: 30.0,
            modulus: 2500.0,
        },
    }
}
