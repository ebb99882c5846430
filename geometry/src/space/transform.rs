//! The exact distance transform: how far every cell lies from the nearest
//! taken one.
//!
//! The squared distance is a sum over the axes, so it is found one axis at a
//! time: along depth by counting cells from the last taken one, there and
//! back; then across and up as the least of `value(n ± k) + k²`, with `k`
//! growing until `k²` alone is more than what is known already. Saito and
//! Toriwaki, "New algorithms for Euclidean distance transformation of an
//! n-dimensional digitized picture", 1994 (from memory); here many
//! cells at a time, in numbers of 16 bits.

use super::Taken;

/// Cells worked on together.
const LANES: usize = 16;

/// Squared distances less 32768: the least of two signed numbers is one
/// instruction on every processor, of two unsigned ones it is not.
type Lanes = [i16; LANES];

/// Further than anything.
const FAR: Lanes = [i16::MAX; LANES];

/// Distances of more cells than this do not fit.
const FURTHEST: usize = 255;

/// Cells further to look before asking whether anything can still be nearer.
const STRIDE: usize = 4;

/// Room the transform works in, kept by the caller from one call to the next.
#[derive(Clone, Debug, Default)]
pub struct Scratch {
    /// One for each thread.
    rooms: Vec<Room>,
}

/// What one thread works in.
#[derive(Clone, Debug, Default)]
struct Room {
    /// Cells since the last taken one, for each line along depth.
    since: Vec<u16>,
    /// One line of cells, with room beyond both ends.
    line: Vec<i16>,
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
                along_depth(out, taken, size[0], &mut room.since);
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
fn along_depth(out: &mut [u16], taken: &[u8], across: usize, since: &mut Vec<u16>) {
    since.clear();
    since.resize(across, u16::MAX);
    for (out, taken) in out.chunks_mut(across).zip(taken.chunks(across)) {
        for ((out, since), taken) in out.iter_mut().zip(&mut *since).zip(taken) {
            let next = since.saturating_add(1);
            *since = if *taken == 0 { next } else { 0 };
            *out = *since;
        }
    }
    since.fill(u16::MAX);
    for out in out.chunks_mut(across).rev() {
        for (out, since) in out.iter_mut().zip(&mut *since) {
            *since = since.saturating_add(1).min(*out);
            *out = squared(*since);
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
fn across(out: &mut [u16], across: usize, line: &mut Vec<i16>) {
    let reach = FURTHEST.min(across - 1);
    line.clear();
    line.resize(reach + across.next_multiple_of(LANES) + reach, i16::MAX);
    for out in out.chunks_mut(across) {
        for (line, out) in line[reach..].iter_mut().zip(&*out) {
            *line = signed(*out);
        }
        for (part, out) in out.chunks_mut(LANES).enumerate() {
            let at = reach + part * LANES;
            let from = |at: usize| *line[at..].first_chunk().unwrap_or(&FAR);
            let least = least_of(from(at), reach, |k| [from(at - k), from(at + k)]);
            put(&least, out);
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
        columns.extend(planes.iter().map(|plane| take(&plane[part.clone()])));
        for (up, plane) in planes.iter_mut().enumerate() {
            // Beyond an end the end cell stands in, further off than it is:
            // never too near, and counted at its true distance before.
            let from = |k: usize| [columns[up.saturating_sub(k)], columns[top.min(up + k)]];
            let least = least_of(columns[up], FURTHEST.min(top), from);
            put(&least, &mut plane[part.clone()]);
        }
    }
}

/// The least of what is known and `value(± k) + k²` for every `k` up to `reach`.
#[inline(always)]
fn least_of(known: Lanes, reach: usize, sides: impl Fn(usize) -> [Lanes; 2]) -> Lanes {
    let mut least = known;
    for start in (1..=reach).step_by(STRIDE) {
        let most = least.iter().fold(i16::MIN, |most, &value| value.max(most));
        if usize::from(unsigned(most)) <= start * start {
            break;
        }
        for k in start..start + STRIDE {
            let k = k.min(reach);
            let [one, other] = sides(k);
            // A square may take two signed numbers.
            let square = (k * k).min(i16::MAX as usize);
            let rest = (k * k - square) as i16;
            for lane in 0..LANES {
                let mut nearer = one[lane].min(other[lane]).saturating_add(square as i16);
                if rest > 0 {
                    nearer = nearer.saturating_add(rest);
                }
                least[lane] = least[lane].min(nearer);
            }
        }
    }
    least
}

fn signed(value: u16) -> i16 {
    (value ^ 0x8000) as i16
}

fn unsigned(value: i16) -> u16 {
    value as u16 ^ 0x8000
}

/// The cells of part of a line; nothing near after its end.
#[inline(always)]
fn take(cells: &[u16]) -> Lanes {
    if let Some(cells) = cells.first_chunk() {
        return cells.map(signed);
    }
    let mut lanes = FAR;
    for (lane, cell) in lanes.iter_mut().zip(cells) {
        *lane = signed(*cell);
    }
    lanes
}

/// Puts as many back as there are cells.
#[inline(always)]
fn put(lanes: &Lanes, cells: &mut [u16]) {
    if let Some(cells) = cells.first_chunk_mut() {
        *cells = lanes.map(unsigned);
        return;
    }
    for (cell, lane) in cells.iter_mut().zip(lanes) {
        *cell = unsigned(*lane);
    }
}
