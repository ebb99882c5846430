//! Leads of one cluster drawn together, as an installer would tape them: where
//! it costs little length, a lead runs along one of its mates.

use glam::DVec3;

use super::draw::Draw;
use super::one::corners_of;
use super::together::Laying;
use crate::path::Path;

impl Laying<'_> {
    /// Draws leads to their mates, the longest of a cluster first.
    pub(super) fn gather(&mut self) {
        let mut leads: Vec<usize> = (0..self.laid.len())
            .filter(|&lead| self.laid[lead].is_some() && self.site.tasks[lead].through.is_empty())
            .collect();
        let length = |lead: usize| self.laid[lead].as_ref().map_or(0.0, Path::length);
        leads.sort_by(|&one, &other| length(other).total_cmp(&length(one)));
        for number in 1..leads.len() {
            let lead = leads[number];
            let cluster = self.site.tasks[lead].cluster;
            let gathered = leads[..number].iter().copied();
            let mates: Vec<usize> = gathered
                .filter(|&it| cluster.is_some() && self.site.tasks[it].cluster == cluster)
                .collect();
            if let Some(path) = self.beside(lead, &mates) {
                self.lay(lead, path);
            }
        }
    }

    /// A way for a lead along its mates, where that is better than its own.
    fn beside(&self, lead: usize, mates: &[usize]) -> Option<Path> {
        let (site, task) = (&self.site, &self.site.tasks[lead]);
        let bits = mates.iter().fold(0, |bits, mate| bits | 1 << mate);
        let own = corners_of(self.laid[lead].as_ref()?)?;
        if bits == 0 || own.len() < 4 {
            return None;
        }
        let draw = |corners| Draw::new(site.strain(&self.crowd, lead, task, bits), corners);
        let mut least = draw(own.clone())?.total();
        let mut best = None;
        let paths = mates.iter().filter_map(|&mate| {
            let along = corners_of(self.laid[mate].as_ref()?)?;
            let apart = 0.5 * (task.od + site.tasks[mate].od) + 0.5;
            along_mate(&own, &along, apart)
        });
        for corners in std::iter::once(own.clone()).chain(paths) {
            let Some(mut draw) = draw(corners) else {
                continue;
            };
            let Some(path) = site.tightened(&mut draw, &self.laid) else {
                continue;
            };
            let fits = task.length.is_none_or(|most| path.length() <= most);
            if fits && draw.total() < least {
                (least, best) = (draw.total(), Some(path));
            }
        }
        best
    }
}

/// Corners from one's own ends along a mate, shifted to one's own side of it.
fn along_mate(own: &[DVec3], mate: &[DVec3], apart: f64) -> Option<Vec<DVec3>> {
    if mate.len() < 5 {
        return None;
    }
    let (last, mate_last) = (own.len() - 1, mate.len() - 1);
    let between = &mate[2..mate_last - 1];
    let along = (mate[mate_last - 1] - mate[1]).normalize_or_zero();
    let side = own[last - 1] - mate[mate_last - 1];
    let shift = (side - side.dot(along) * along).normalize_or_zero() * apart;
    let mut corners = own[..2].to_vec();
    corners.extend(between.iter().map(|&corner| corner + shift));
    corners.extend(&own[last - 1..]);
    Some(corners)
}
