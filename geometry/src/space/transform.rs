//! The exact distance transform: how far every cell lies from the nearest
//! taken one.
//!
//! The squared distance is a sum over the axes, so it is found one axis at a
//! time: along depth by counting cells from the last taken one, there and
//! back; then across and up as the least of `value(n ± k) + k²`, with `k`
//! growing until `k²` alone is more than what is known already. Saito and
//! Toriwaki, "New algorithms for Euclidean distance transformation of an
//! n-dimensional digitized picture", 1994 (from memory); here whole
//! rows at a time, in numbers of 16 bits.

use super::Taken;

/// Cells worked on together.
const LANES: usize = 32;

type Lanes = [u16; LANES];

/// Distances of more cells than this do not fit.
const FURTHEST: usize = 255;

/// Room the transform works in, kept by the caller from one call to the next.
#[derive(Clone, Debug, Default)]
pub struct Scratch {
    /// One for each thread.
    rooms: Vec<Room>,
}

/// What one thread works in.
#[derive(Clone, Debug, Default)]
struct Room {
    /// One line of cells, with room beyond both ends.
    line: Vec<u16>,
    /// Columns side by side.
    columns: Vec<Lanes>,
}

/// The squared distance, in cells, from each cell's centre to that of the
/// nearest taken cell: exact, and `u16::MAX` where it is that much or more, or
/// nothing is taken.
///
/// * `size`: cells along each axis, the first running fastest
/// * `taken`: which cells are taken; as many as `size` says
/// * `threads`: how many to work with; the result is the same for any number
/// * `out`: the result, one for each cell
pub fn distance_squared(
    size: [usize; 3],
    taken: &Taken,
    threads: usize,
    out: &mut Vec<u16>,
    scratch: &mut Scratch,
) {
    let plane = size[0] * size[1];
    out.resize(plane * size[2], u16::MAX);
    if out.is_empty() {
        return;
    }
    let threads = threads.clamp(1, size[2]);
    scratch.rooms.resize_with(threads, Room::default);
    let share = size[2].div_ceil(threads) * plane;
    let cells = taken.cells().chunks(share);
    std::thread::scope(|scope| {
        let shares = out.chunks_mut(share).zip(cells).zip(&mut scratch.rooms);
        in_turn(scope, shares, |((out, taken), room)| {
            for (out, taken) in out.chunks_mut(plane).zip(taken.chunks(plane)) {
                along_depth(out, taken, size[0]);
                across(out, size[0], &mut room.line);
            }
        });
    });
    let shares = upright_shares(out, plane, threads);
    std::thread::scope(|scope| {
        let shares = shares.into_iter().zip(&mut scratch.rooms);
        in_turn(scope, shares, |(mut planes, room)| {
            upward(&mut planes, &mut room.columns);
        });
    });
}

/// Does every share, the first on this thread and the others each on its own.
fn in_turn<'scope, 'env, T: Send + 'scope>(
    scope: &'scope std::thread::Scope<'scope, 'env>,
    shares: impl Iterator<Item = T>,
    work: impl Fn(T) + Copy + Send + 'scope,
) {
    let mut shares = shares;
    let first = shares.next();
    for share in shares {
        scope.spawn(move || work(share));
    }
    if let Some(share) = first {
        work(share);
    }
}

/// The planes cut into parts for each thread: a part of every plane, in order.
fn upright_shares(out: &mut [u16], plane: usize, threads: usize) -> Vec<Vec<&mut [u16]>> {
    let width = plane.div_ceil(threads).next_multiple_of(LANES);
    let mut shares: Vec<Vec<&mut [u16]>> = Vec::new();
    shares.resize_with(plane.div_ceil(width), Vec::new);
    for plane in out.chunks_mut(plane) {
        for (share, part) in shares.iter_mut().zip(plane.chunks_mut(width)) {
            share.push(part);
        }
    }
    shares
}

/// Squared distances along depth within one plane, from the taken cells.
fn along_depth(out: &mut [u16], taken: &[u8], across: usize) {
    let mut last = vec![u16::MAX; across];
    for (out, taken) in out.chunks_mut(across).zip(taken.chunks(across)) {
        for ((out, last), taken) in out.iter_mut().zip(&mut last).zip(taken) {
            *last = if *taken == 0 {
                last.saturating_add(1)
            } else {
                0
            };
            *out = *last;
        }
    }
    last.fill(u16::MAX);
    for out in out.chunks_mut(across).rev() {
        for (out, last) in out.iter_mut().zip(&mut last) {
            *last = last.saturating_add(1).min(*out);
            *out = squared(*last);
        }
    }
}

fn squared(cells: u16) -> u16 {
    if usize::from(cells) > FURTHEST {
        u16::MAX
    } else {
        cells.wrapping_mul(cells)
    }
}

/// The least along each line of one plane.
fn across(out: &mut [u16], across: usize, line: &mut Vec<u16>) {
    let reach = FURTHEST.min(across - 1);
    line.clear();
    line.resize(reach + across.next_multiple_of(LANES) + reach, u16::MAX);
    for out in out.chunks_mut(across) {
        line[reach..reach + across].copy_from_slice(out);
        for (part, out) in out.chunks_mut(LANES).enumerate() {
            let at = reach + part * LANES;
            let least = least_of(lanes(&line[at..]), reach, |k| {
                [lanes(&line[at - k..]), lanes(&line[at + k..])]
            });
            out.copy_from_slice(&least[..out.len()]);
        }
    }
}

/// The least along each column through a stack of parts of planes.
fn upward(planes: &mut [&mut [u16]], columns: &mut Vec<Lanes>) {
    let width = planes.first().map_or(0, |plane| plane.len());
    let top = planes.len() - 1;
    for at in (0..width).step_by(LANES) {
        let part = at..width.min(at + LANES);
        columns.clear();
        columns.extend(planes.iter().map(|plane| lanes(&plane[part.clone()])));
        for (up, plane) in planes.iter_mut().enumerate() {
            // Beyond an end the end cell stands in, further off than it is:
            // never too little, and counted at its true distance before.
            let least = least_of(columns[up], FURTHEST.min(top), |k| {
                [columns[up.saturating_sub(k)], columns[top.min(up + k)]]
            });
            plane[part.clone()].copy_from_slice(&least[..part.len()]);
        }
    }
}

/// The first cells of a line; `u16::MAX` after its end.
fn lanes(line: &[u16]) -> Lanes {
    match line.first_chunk() {
        Some(lanes) => *lanes,
        None => {
            let mut lanes = [u16::MAX; LANES];
            lanes[..line.len()].copy_from_slice(line);
            lanes
        }
    }
}

/// The least of what is known and `value(± k) + k²` for every `k` up to `reach`.
#[inline(always)]
fn least_of(known: Lanes, reach: usize, sides: impl Fn(usize) -> [Lanes; 2]) -> Lanes {
    let mut least = known;
    for k in 1..=reach {
        let square = (k * k) as u16;
        let most = least.iter().fold(0, |most, &value| value.max(most));
        if most <= square {
            break;
        }
        let [one, other] = sides(k);
        for lane in 0..LANES {
            let nearer = one[lane].min(other[lane]).saturating_add(square);
            least[lane] = least[lane].min(nearer);
        }
    }
    least
}
