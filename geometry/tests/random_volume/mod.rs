//! A volume of balls and boxes that other programs can make again cell by cell.

/// Cells along each axis, the first running fastest.
// Not every test takes it.
#[allow(dead_code)]
pub const SIZE: [usize; 3] = [170, 110, 140];

/// SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable
/// pseudorandom number generators", 2014.
fn bits(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// 1 where taken, else 0. Each of `count` solids draws six numbers: its centre,
/// then its half sizes of 3 to 16 cells; every other one is a ball of the
/// first half size, the others are boxes. A shell of so many cells is taken as well.
pub fn volume(size: [usize; 3], count: usize, shell: i64) -> Vec<u8> {
    let mut state = 1;
    let size = size.map(|count| count as i64);
    let solids: Vec<([i64; 3], [i64; 3])> = (0..count)
        .map(|_| {
            let centre = size.map(|count| (bits(&mut state) % count as u64) as i64);
            let half = size.map(|_| (3 + bits(&mut state) % 14) as i64);
            (centre, half)
        })
        .collect();
    let mut cells = vec![0; size.iter().product::<i64>() as usize];
    let mut fill = |low: [i64; 3], high: [i64; 3], inside: &dyn Fn([i64; 3]) -> bool| {
        for k in low[2].max(0)..=high[2].min(size[2] - 1) {
            for j in low[1].max(0)..=high[1].min(size[1] - 1) {
                for i in low[0].max(0)..=high[0].min(size[0] - 1) {
                    if inside([i, j, k]) {
                        cells[((k * size[1] + j) * size[0] + i) as usize] = 1;
                    }
                }
            }
        }
    };
    for (number, (centre, half)) in solids.iter().enumerate() {
        let ball = number % 2 == 1;
        let half = if ball { [half[0]; 3] } else { *half };
        let axes = [0, 1, 2];
        fill(
            axes.map(|axis| centre[axis] - half[axis]),
            axes.map(|axis| centre[axis] + half[axis]),
            &|cell| {
                let apart = axes.map(|axis| cell[axis] - centre[axis]);
                !ball || apart.iter().map(|a| a * a).sum::<i64>() <= half[0] * half[0]
            },
        );
    }
    fill([0; 3], size, &|cell| {
        (0..3).any(|axis| cell[axis] < shell || cell[axis] >= size[axis] - shell)
    });
    cells
}
