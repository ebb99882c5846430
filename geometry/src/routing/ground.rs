//! What a search goes through: the solids' room and the other leads', together
//! as one byte for each voxel it comes by.

use glam::{DVec3, IVec3};

use super::Bulge;
use super::approach::Approach;
use super::crowd::Crowd;
use super::lattice::{COST, HEADINGS, Lattice, SAMPLE, Turn, Turns};
use super::room::{FINE, Room};

/// What a search goes through.
pub(super) struct Ground<'a> {
    pub room: &'a Room<'a>,
    pub crowd: &'a Crowd<'a>,
    pub seen: &'a mut Seen,
    pub lattice: &'a Lattice,
    pub turns: &'a Turns,
    /// Number of the lead.
    pub lead: usize,
    /// Half its thickness, mm; its lumps come beside it.
    pub half: f64,
    pub lumps: &'a [Bulge],
    /// Room that may be missing, mm, at [`MISSING`] a price.
    pub lenient: f64,
    /// What it costs to ask another lead to move, if that is allowed, in steps
    /// of 1 / [`COST`] mm for each turn.
    pub prices: Option<&'a [u32]>,
}

/// Cost of a millimetre of missing room along a millimetre.
const MISSING: f64 = 1.0;

/// Room at the voxels a search came by, bytes as in [`Room`], each with the
/// number of the search.
#[derive(Default)]
pub(super) struct Seen {
    words: Vec<u32>,
    search: u32,
}

impl Seen {
    /// Forgets everything, for a search in some room.
    pub fn begin(&mut self, room: &Room) {
        let voxels = room.size.iter().product();
        if self.words.len() != voxels || self.search == u32::MAX >> 8 {
            self.words = vec![0; voxels];
            self.search = 0;
        }
        self.search += 1;
    }
}

impl Ground<'_> {
    /// The node of a state and its place.
    #[inline]
    pub fn node_of(&self, state: usize) -> (usize, IVec3) {
        let node = state / HEADINGS;
        (node, self.lattice.place(node))
    }

    /// Whether every lump is behind a point this far from the plug.
    pub fn past_lumps(&self, cost: u32) -> bool {
        let along = f64::from(cost) / COST;
        (self.lumps.iter()).all(|lump| lump.at + 0.5 * lump.length <= along)
    }

    /// Half the thickness at a place along the lead, where the place is known.
    #[inline]
    fn half_at(&self, along: Option<f64>) -> f64 {
        let Some(along) = along else {
            return self.half;
        };
        let met = |lump: &&Bulge| (along - lump.at).abs() <= 0.5 * lump.length;
        let lumps = self.lumps.iter().filter(met);
        (lumps.map(|lump| 0.5 * lump.diameter)).fold(self.half, f64::max)
    }

    /// Room at a voxel, to solids and, unless they can be asked to move, to
    /// other leads.
    #[inline]
    fn byte(&mut self, voxel: usize) -> u8 {
        let known = self.seen.words[voxel];
        if known >> 8 == self.seen.search {
            return known as u8;
        }
        let mut byte = self.room.byte(voxel);
        if self.prices.is_none() {
            let room = self.crowd.at(self.room.middle(voxel), self.lead);
            byte = byte.min(Room::byte_of(room));
        }
        self.seen.words[voxel] = self.seen.search << 8 | u32::from(byte);
        byte
    }

    /// What a turn from a node costs beside its length; `None` when it is
    /// blocked.
    ///
    /// * `voxel`, `place`: the node's
    /// * `start`: how far along the lead it is, where that is known, mm
    pub fn turn(
        &mut self,
        turn: &Turn,
        voxel: usize,
        place: IVec3,
        start: Option<f64>,
    ) -> Option<u32> {
        let at = |number: usize| (voxel as isize + turn.samples[number].voxel) as usize;
        let last = turn.samples.len() - 1;
        let lenient = self.lenient;
        let needed = |half: f64| (Room::byte_of(half), Room::byte_of(half - lenient));
        let (mut full, mut least) = needed(self.half);
        if self.byte(at(last)) < least {
            return None;
        }
        let mut toll = Toll::default();
        let mut number = 0;
        while number <= last {
            let sample = &turn.samples[number];
            if let Some(start) = start {
                (full, least) = needed(self.half_at(Some(start + sample.along)));
            }
            let seen = self.byte(at(number));
            if seen < least {
                return None;
            }
            let mut step = 1;
            if seen < full {
                toll.missing += f64::from(full - seen) / FINE;
            } else if start.is_none() && self.prices.is_none() {
                step += (f64::from(seen - full) * (1.0 / (FINE * SAMPLE))) as usize;
            }
            if self.prices.is_some() {
                let point = self.lattice.point(place) + sample.from_node;
                self.ask(point, self.half, &mut toll)?;
            }
            number += step;
        }
        Some(self.price(&toll))
    }

    /// What an approach costs beside its length; `None` when others block it.
    pub fn approach(&self, approach: &Approach, forward: bool) -> Option<u32> {
        let mut toll = Toll::default();
        for &(point, along) in &approach.samples {
            let half = self.half_at(forward.then_some(along));
            if self.prices.is_some() {
                self.ask(point, half, &mut toll)?;
                continue;
            }
            let missing = half - self.crowd.at(point, self.lead);
            if missing > self.lenient {
                return None;
            }
            toll.missing += missing.max(0.0);
        }
        Some(self.price(&toll))
    }

    /// Notes the leads that would have to move; `None` when one may not.
    fn ask(&self, point: DVec3, half: f64, toll: &mut Toll) -> Option<()> {
        let look = self.crowd.look(point, self.lead, half);
        toll.moved |= look.moved;
        let missing = half - look.room;
        toll.missing += missing.max(0.0);
        (missing <= self.lenient).then_some(())
    }

    fn price(&self, toll: &Toll) -> u32 {
        let mut price = (toll.missing * SAMPLE * MISSING * COST) as u32;
        let mut moved = toll.moved;
        while let (Some(prices), true) = (self.prices, moved != 0) {
            price += prices[moved.trailing_zeros() as usize];
            moved &= moved - 1;
        }
        price
    }
}

/// What is paid for beside length.
#[derive(Default)]
struct Toll {
    /// Missing room, summed over the points looked at, mm.
    missing: f64,
    /// Leads asked to move, a bit for each.
    moved: u64,
}
