//! The best packings known, to compare with.

/// Radius of the container in circle radii, for 2 to 61 equal circles: the best
/// known. Source: the table of best-known values in a public source file (n to
/// 251), read; to n = 50 the same in a paper on optimised packings of circular
/// items, table 1, read. Proved for n <= 13 and 19 (literature, from memory).
pub const EQUAL: [(usize, f64); 60] = [
    (2, 2.0000000000),
    (3, 2.1547005384),
    (4, 2.4142135624),
    (5, 2.7013016167),
    (6, 3.0000000000),
    (7, 3.0000000000),
    (8, 3.3047648710),
    (9, 3.6131259298),
    (10, 3.8130256314),
    (11, 3.9238044002),
    (12, 4.0296019301),
    (13, 4.2360679775),
    (14, 4.3284285549),
    (15, 4.5213569647),
    (16, 4.6154255949),
    (17, 4.7920337483),
    (18, 4.8637033052),
    (19, 4.8637033052),
    (20, 5.1223207370),
    (21, 5.2523174750),
    (22, 5.4397189591),
    (23, 5.5452042226),
    (24, 5.6516610918),
    (25, 5.7528243309),
    (26, 5.8281765369),
    (27, 5.9063978474),
    (28, 6.0149380974),
    (29, 6.1385979040),
    (30, 6.1977410709),
    (31, 6.2915026221),
    (32, 6.4294629710),
    (33, 6.4867031236),
    (34, 6.6109570900),
    (35, 6.6971710918),
    (36, 6.7467537934),
    (37, 6.7587704831),
    (38, 6.9618869652),
    (39, 7.0578841626),
    (40, 7.1238464359),
    (41, 7.2600123287),
    (42, 7.3467964069),
    (43, 7.4199448563),
    (44, 7.4980366830),
    (45, 7.5729123264),
    (46, 7.6501799147),
    (47, 7.7241700526),
    (48, 7.7912714306),
    (49, 7.8868709588),
    (50, 7.9475152748),
    (51, 8.0275069524),
    (52, 8.0847171907),
    (53, 8.1795828268),
    (54, 8.2039823834),
    (55, 8.2111025509),
    (56, 8.3835299226),
    (57, 8.4471846534),
    (58, 8.5245537701),
    (59, 8.5924999594),
    (60, 8.6462198455),
    (61, 8.6612975755),
];

/// Radius of the container for circles of radii 1 to n: the best known. Source:
/// for n >= 5 a paper on iterated tabu search for unequal circles in a circle,
/// table 4, read; below, the two largest circles touch and span (computed here).
pub const UNEQUAL: [(usize, f64); 19] = [
    (2, 3.00000000),
    (3, 5.00000000),
    (4, 7.00000000),
    (5, 9.00139774),
    (6, 11.05704039),
    (7, 13.46211067),
    (8, 16.22174667),
    (9, 19.23319390),
    (10, 22.00019301),
    (11, 24.96063428),
    (12, 28.37138943),
    (13, 31.54586701),
    (14, 35.09564714),
    (15, 38.83799550),
    (16, 42.45811643),
    (17, 46.29134211),
    (18, 50.11976262),
    (19, 54.24029359),
    (20, 58.40056747),
];

/// Looms of 20, 40 and 60 wires in three to five sizes: a line each, the smallest
/// diameter found so far and the wires' diameters, mm. Computed here, by searches
/// of every effort; nobody has published these.
const LOOMS: &str = include_str!("../data/looms.txt");

/// The looms of so many wires: the smallest diameter found so far, the wires.
pub fn looms(n: usize) -> Vec<(f64, Vec<f64>)> {
    LOOMS
        .lines()
        .map(|line| {
            let figures: Vec<f64> = line
                .split_whitespace()
                .map(|word| word.parse().expect("a figure"))
                .collect();
            (figures[0], figures[1..].to_vec())
        })
        .filter(|(_, wires)| wires.len() == n)
        .collect()
}
