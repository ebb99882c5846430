//! Where the modules lie in the hidden answer, and the pockets they lie in.

use geometry::{Solid, signed_distance};
use glam::DVec3;
use profiles::Library;
use profiles::schema::{BoxFile, ModuleFile, ModulePart, PartUse, PocketFile};

use super::shell::{Shell, mm, typed};
use crate::chance::Chance;

/// Tries for one module, of which the one nearest to the walls is taken.
const TRIES: usize = 160;

/// Room that others keep from a module of the library, mm.
pub const CLEAR: f64 = 3.0;

/// A module in its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Its id.
    pub id: String,
    /// Lowest and highest corner, mm.
    pub faces: [DVec3; 2],
    /// The pocket it lies in, mm.
    pub pocket: [DVec3; 2],
    /// Whether it stays there.
    pub pinned: bool,
}

impl Placed {
    /// Its middle, mm.
    pub fn centre(&self) -> DVec3 {
        0.5 * (self.faces[0] + self.faces[1])
    }

    /// Its size as it lies, mm.
    pub fn size(&self) -> DVec3 {
        self.faces[1] - self.faces[0]
    }

    /// Its box.
    pub fn solid(&self) -> Solid {
        Solid::block(self.faces[0], self.faces[1])
    }

    /// The pocket as a file states it.
    pub fn pocket_file(&self) -> PocketFile {
        PocketFile {
            id: format!("P{}", &self.id[1..]),
            name: format!("pocket {}", &self.id[1..]),
            block: box_file(self.pocket),
        }
    }
}

/// A box as a file states it.
pub fn box_file([low, high]: [DVec3; 2]) -> BoxFile {
    let along = |axis: usize| [mm(low[axis]), mm(high[axis])];
    BoxFile {
        across: along(0),
        depth: along(1),
        up: along(2),
        turned_deg: [0.0; 3],
    }
}

/// A module as a file states it.
pub fn module_file(id: &str, part: &str, pinned: Option<[DVec3; 2]>) -> ModuleFile {
    ModuleFile {
        id: id.to_owned(),
        name: format!("module {id}"),
        part: PartUse::Named(part.to_owned()),
        pinned: pinned.map(box_file),
        may_go_to: Vec::new(),
        lead_length: None,
        notes: String::new(),
    }
}

/// A place for a module against the walls, clear of everything that is kept free.
///
/// * `kept`: solids that no module comes nearer to than its clear
pub fn place(
    id: &str,
    part: &'static str,
    shell: &Shell,
    kept: &[Solid],
    library: &Library,
    chance: &mut Chance,
) -> Option<Placed> {
    let stated = library.get::<ModulePart>(part)?.size.clone();
    let size = stated.map(|side| side.measure().map_or(0.0, |side| side.value()));
    let mut best: Option<(f64, Placed)> = None;
    for _ in 0..TRIES {
        let mut lying = size;
        chance.shuffle(&mut lying);
        let lying = DVec3::from_array(lying);
        let spare = DVec3::splat(0.6);
        let room = shell.high - spare - lying;
        let from = shell.low + spare;
        if (room - from).min_element() < 0.0 {
            continue;
        }
        let low = chance.point(from, room);
        let low = DVec3::from_array(low.to_array().map(typed));
        let faces = [low, low + lying];
        let around = [
            chance.point(DVec3::ZERO, DVec3::splat(5.0)),
            chance.point(DVec3::ZERO, DVec3::splat(5.0)),
        ];
        let rounded = |point: DVec3| DVec3::from_array(point.to_array().map(typed));
        let pocket = [
            rounded((low - around[0]).max(shell.low + 0.2)),
            rounded((faces[1] + around[1]).min(shell.high - 0.2)),
        ];
        let solid = Solid::block(pocket[0], pocket[1]);
        if kept
            .iter()
            .any(|kept| signed_distance(&solid, kept) < CLEAR + 0.05)
        {
            continue;
        }
        let to_walls = (low - shell.low).min(shell.high - faces[1]);
        let mut gaps = to_walls.to_array();
        gaps.sort_by(f64::total_cmp);
        let aside = gaps[0] + gaps[1];
        if best.as_ref().is_none_or(|(least, _)| aside < *least) {
            let placed = Placed {
                id: id.to_owned(),
                faces,
                pocket,
                pinned: false,
            };
            best = Some((aside, placed));
        }
    }
    best.map(|(_, placed)| placed)
}
