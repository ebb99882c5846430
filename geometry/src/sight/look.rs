//! What is seen of many skins.

use glam::{DVec2, DVec3};

use super::eye::Eye;
use super::fill::{Layer, NONE};
use super::runs::{Run, runs};
use super::skin::Skin;

/// How one sees a skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It hides what is behind it.
    Solid,
    /// It tints what is behind it.
    SeeThrough,
    /// Its edges alone.
    Edges,
}

/// A facet of a skin, both by number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Seen {
    /// The skin.
    pub skin: u32,
    /// Its facet.
    pub facet: u32,
}

/// A picture of skins, kept so that the next one needs no new memory.
#[derive(Clone, Debug, Default)]
pub struct Sight {
    solid: Layer,
    through: Layer,
    numbers: Vec<Seen>,
    runs: Vec<Run>,
}

impl Sight {
    /// Looks at skins.
    ///
    /// * `size`: of the picture, cells right and down; the eye's focus is in its middle
    pub fn look<'a>(
        &mut self,
        eye: &Eye,
        size: [usize; 2],
        skins: impl Iterator<Item = (&'a Skin, Standing)> + Clone,
    ) {
        let [width, height] = size;
        self.solid.clear(width, height);
        self.through.clear(width, height);
        self.numbers.clear();
        self.runs.clear();
        let middle = DVec3::new(0.5 * width as f64, 0.5 * height as f64, 0.0);
        for wanted in [Standing::Solid, Standing::SeeThrough] {
            let wanted_skins = skins.clone().enumerate();
            for (number, (skin, _)) in wanted_skins.filter(|(_, (_, standing))| *standing == wanted)
            {
                self.put(eye, middle, number, skin, wanted);
            }
        }
        for (number, (skin, standing)) in skins.enumerate() {
            self.edges(eye, middle, number, skin, standing);
        }
    }

    fn put(&mut self, eye: &Eye, middle: DVec3, number: usize, skin: &Skin, standing: Standing) {
        let ahead = eye.ahead();
        let mut corners = Vec::new();
        for (at, facet) in skin.facets.iter().enumerate() {
            if facet.normal.dot(ahead) >= 0.0 {
                continue;
            }
            corners.clear();
            corners.extend(facet.corners.iter().map(|&corner| eye.see(corner) + middle));
            let name = self.numbers.len() as u32;
            self.numbers.push(Seen {
                skin: number as u32,
                facet: at as u32,
            });
            match standing {
                Standing::Solid => self.solid.fill(&corners, name, None),
                _ => self.through.fill(&corners, name, Some(&self.solid)),
            }
        }
    }

    /// Edges that show: sharp ones on the near side, and where the skin turns away.
    fn edges(&mut self, eye: &Eye, middle: DVec3, number: usize, skin: &Skin, standing: Standing) {
        let ahead = eye.ahead();
        for edge in &skin.edges {
            let near = edge
                .sides
                .map(|side| skin.facets[side].normal.dot(ahead) < 0.0);
            let outline = near[0] != near[1];
            let shown = match standing {
                Standing::Solid => outline || (edge.sharp && near[0]),
                _ => outline || edge.sharp,
            };
            if shown {
                let ends = edge.ends.map(|end| eye.see(end) + middle);
                runs(&self.solid, number, ends, &mut self.runs);
            }
        }
    }

    /// Cells right and down.
    pub fn size(&self) -> [usize; 2] {
        [self.solid.width, self.solid.height]
    }

    /// Every edge, in runs that show and runs that are hidden.
    pub fn runs(&self) -> &[Run] {
        &self.runs
    }

    /// Cuts a line, mm, into runs as the edges of a skin with this number.
    pub fn line(&mut self, eye: &Eye, skin: usize, points: &[DVec3]) {
        let [width, height] = self.size();
        let middle = DVec3::new(0.5 * width as f64, 0.5 * height as f64, 0.0);
        for pair in points.windows(2) {
            let ends = [pair[0], pair[1]].map(|end| eye.see(end) + middle);
            runs(&self.solid, skin, ends, &mut self.runs);
        }
    }

    /// The solid facet seen in a cell, and the see-through one before it.
    pub fn cell(&self, at: usize) -> [Option<Seen>; 2] {
        [&self.solid, &self.through].map(|layer| {
            let name = layer.facet.get(at).copied().filter(|name| *name != NONE)?;
            self.numbers.get(name as usize).copied()
        })
    }

    /// Paints the picture, row by row from the top left.
    ///
    /// * `tone`: of a facet, asked once for every facet that faces the eye
    /// * `over`: a see-through facet's tone over what is behind it
    pub fn paint<T: Copy>(
        &self,
        sheet: T,
        tone: impl Fn(Seen) -> T,
        over: impl Fn(T, T) -> T,
    ) -> Vec<T> {
        let tones: Vec<T> = self.numbers.iter().map(|&seen| tone(seen)).collect();
        let of = |name: u32| tones.get(name as usize).copied();
        let cells = self.solid.facet.iter().zip(&self.through.facet);
        let paint = |(&solid, &through): (&u32, &u32)| {
            let under = if solid == NONE {
                sheet
            } else {
                of(solid).unwrap_or(sheet)
            };
            if through == NONE {
                under
            } else {
                of(through).map_or(under, |tone| over(under, tone))
            }
        };
        cells.map(paint).collect()
    }

    /// The nearest solid skin within so many cells of a place, else the
    /// see-through one in that cell.
    ///
    /// * `place`: cells right and down from the top left
    pub fn under(&self, place: DVec2, reach: f64) -> Option<usize> {
        let [width, height] = self.size();
        let (column, row) = (place.x.floor(), place.y.floor());
        let mut best: Option<(f64, usize)> = None;
        let most = reach.ceil() as i32;
        for down in -most..=most {
            for right in -most..=most {
                let apart = f64::from(right).hypot(f64::from(down));
                let (x, y) = (column + f64::from(right), row + f64::from(down));
                let inside = x >= 0.0 && y >= 0.0 && x < width as f64 && y < height as f64;
                if !inside || apart > reach || best.is_some_and(|(other, _)| other <= apart) {
                    continue;
                }
                let at = y as usize * width + x as usize;
                if let [Some(seen), _] = self.cell(at) {
                    best = Some((apart, seen.skin as usize));
                }
            }
        }
        if let Some((_, skin)) = best {
            return Some(skin);
        }
        let inside = column >= 0.0 && row >= 0.0 && column < width as f64 && row < height as f64;
        let at = inside.then(|| row as usize * width + column as usize)?;
        self.cell(at)[1].map(|seen| seen.skin as usize)
    }

    /// Where each of `skins` skins shows: the box around its cells (left, top,
    /// right, bottom), and one of them near its middle.
    pub fn places(&self, skins: usize) -> Vec<Option<Place>> {
        const EVERY: usize = 5;
        let [width, height] = self.size();
        let mut places: Vec<Option<Place>> = vec![None; skins];
        let cells = |visit: &mut dyn FnMut(usize, DVec2)| {
            for row in (0..height).step_by(EVERY) {
                for column in (0..width).step_by(EVERY) {
                    let at = row * width + column;
                    let [solid, through] = self.cell(at);
                    if let Some(seen) = solid.or(through) {
                        visit(
                            seen.skin as usize,
                            DVec2::new(column as f64, row as f64) + 0.5,
                        );
                    }
                }
            }
        };
        cells(&mut |skin, at| {
            if let Some(place) = places.get_mut(skin) {
                let place = place.get_or_insert(Place {
                    low: at,
                    high: at,
                    spot: at,
                    cells: 0,
                });
                place.low = place.low.min(at);
                place.high = place.high.max(at);
                place.cells += EVERY * EVERY;
            }
        });
        cells(&mut |skin, at| {
            if let Some(Some(place)) = places.get_mut(skin) {
                let middle = 0.5 * (place.low + place.high);
                if at.distance_squared(middle) < place.spot.distance_squared(middle) {
                    place.spot = at;
                }
            }
        });
        places
    }
}

/// Where a skin shows, cells right and down from the top left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Left and top of the box around it.
    pub low: DVec2,
    /// Right and bottom of it.
    pub high: DVec2,
    /// A place on it, as near the middle of the box as it goes.
    pub spot: DVec2,
    /// About how many cells show of it.
    pub cells: usize,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::section::facets;
    use crate::solids::Solid;

    const EYE: Eye = Eye {
        turn: 0.0,
        tilt: 0.0,
        scale: 1.0,
        focus: DVec3::ZERO,
    };

    fn block(low: [f64; 3], high: [f64; 3]) -> Skin {
        Skin::of(facets(&Solid::block(DVec3::from(low), DVec3::from(high))))
    }

    fn count(sight: &Sight, skin: u32) -> usize {
        let [width, height] = sight.size();
        let cells = (0..width * height).filter_map(|at| sight.cell(at)[0]);
        cells.filter(|seen| seen.skin == skin).count()
    }

    #[test]
    fn the_nearer_one_hides_the_other_however_they_are_listed() {
        let near = block([-10., 0., -10.], [10., 5., 10.]);
        let far = block([-20., 20., -5.], [20., 25., 5.]);
        for flip in [false, true] {
            let mut skins = [(&near, Standing::Solid), (&far, Standing::Solid)];
            if flip {
                skins.reverse();
            }
            let mut sight = Sight::default();
            sight.look(&EYE, [60, 40], skins.iter().copied());
            let (near, far) = if flip { (1, 0) } else { (0, 1) };
            assert_eq!((count(&sight, near), count(&sight, far)), (400, 200));
            let hidden: f64 = sight
                .runs()
                .iter()
                .filter(|run| run.skin == far as usize && !run.shows)
                .map(|run| run.from.distance(run.to))
                .sum();
            // The two long edges of the far face, 20 mm of each.
            assert!((hidden - 40.0).abs() <= 8.0, "{hidden}");
        }
    }

    #[test]
    fn solids_that_go_through_each_other_hide_each_other_by_halves() {
        // A wedge of two blocks seen half way round: each hides what lies behind.
        let one = block([-10., -10., -10.], [10., 10., 10.]);
        let two = block([0., -20., -5.], [5., 20., 5.]);
        let mut sight = Sight::default();
        sight.look(
            &EYE,
            [40, 40],
            [(&one, Standing::Solid), (&two, Standing::Solid)].into_iter(),
        );
        assert_eq!((count(&sight, 0), count(&sight, 1)), (350, 50));
        let from_behind = EYE.turned(std::f64::consts::PI, 0.0);
        sight.look(
            &from_behind,
            [40, 40],
            [(&one, Standing::Solid), (&two, Standing::Solid)].into_iter(),
        );
        assert_eq!((count(&sight, 0), count(&sight, 1)), (350, 50));
    }

    #[test]
    fn one_sees_through_what_is_see_through() {
        let glass = block([-10., 0., -10.], [10., 5., 10.]);
        let solid = block([-4., 20., -4.], [4., 25., 4.]);
        let mut sight = Sight::default();
        sight.look(
            &EYE,
            [40, 40],
            [(&glass, Standing::SeeThrough), (&solid, Standing::Solid)].into_iter(),
        );
        assert_eq!(count(&sight, 1), 64);
        assert_eq!(sight.under(DVec2::new(20.0, 20.0), 3.0), Some(1));
        assert_eq!(sight.under(DVec2::new(12.0, 12.0), 1.0), Some(0));
        assert_eq!(sight.under(DVec2::new(2.0, 2.0), 1.0), None);
        let tone = |seen: Seen| if seen.skin == 0 { 0 } else { 100 };
        let picture = sight.paint(255, tone, |under, over| (under + over) / 2);
        assert_eq!(picture[20 * 40 + 20], 50);
        assert_eq!(picture[12 * 40 + 12], 127);
        assert_eq!(picture[0], 255);
    }
}
