//! The library's figures against published ones. Each figure stands here with
//! its source and how it is known; one from memory is a default to overwrite
//! with a measurement, so agreeing with it proves no more than a clean copy.

use geometry::RuleSet;
use profiles::library::Part;
use profiles::schema::{BendLineFile, CablePart, HowKnown, PlugPart};
use profiles::{Length, Library, open_text};

/// The ends of what the library says of a length, mm.
fn band(length: &Length) -> [f64; 2] {
    let measure = length.measure().expect("a figure of the library");
    [measure.low(), measure.high()]
}

fn part<T: Part>(library: &Library, id: &str) -> T {
    let part = library.get::<T>(id);
    part.unwrap_or_else(|| panic!("{id} is in the library"))
        .clone()
}

/// A figure of a table: `4.95`, or `1.7..1.9` with its ends, mm.
fn figure(text: &str) -> [f64; 2] {
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    [low, high].map(|end| end.parse().expect("a number"))
}

/// How a figure of a table is known.
fn how(word: &str) -> HowKnown {
    match word {
        "read" => HowKnown::Read,
        "computed" => HowKnown::Computed,
        "memory" => HowKnown::FromMemory,
        "practice" => HowKnown::CommonPractice,
        _ => panic!("{word:?} is no way to know a figure"),
    }
}

/// The lines of a table: `N` words, and the source after them.
fn rows<const N: usize>(table: &'static str) -> Vec<([&'static str; N], &'static str)> {
    let lines = table.lines().filter(|line| !line.is_empty());
    lines
        .map(|line| {
            let mut rest = line;
            let words = std::array::from_fn(|_| {
                let (word, after) = rest.split_once(' ').expect("a further word");
                rest = after.trim_start();
                word
            });
            assert!(!rest.is_empty(), "{line:?} has a source");
            (words, rest)
        })
        .collect()
}

#[track_caller]
fn check(what: &str, length: &Length, [low, high]: [f64; 2]) {
    let [from, to] = band(length);
    let same = (from - low).abs() < 1e-9 && (to - high).abs() < 1e-9;
    assert!(same, "{what}: {from} to {to}, published {low} to {high}");
}

#[test]
fn every_part_says_where_its_figures_come_from_and_how_they_are_known() {
    let library = Library::embedded();
    for part in library.parts() {
        let what = format!("{} {}", part.kind.word(), part.id);
        assert_ne!(part.known.how, HowKnown::NotSaid, "{what}");
        assert!(!part.known.source.trim().is_empty(), "{what}");
    }
}

/// Cables by their outside diameters.
const CABLES: &str = "
rg58               4.95        read      data sheet, RG-58A/C 0.195 in
rg59               6.15        read      data sheet, RG-59B 0.242 in
rg223              5.38        read      data sheet, RG-223 0.212 in
rg174              2.8         memory    military slash sheet 0.110 in; a data sheet prints 2.57
rg178              1.7..1.9    memory    data sheet, RG-178
rg316              2.39..2.59  memory    data sheet, RG-316
rg6                6.86..7     memory    data sheets, RG-6
low_loss_100       2.69..2.89  memory    data sheets, 100 class
mini_coax          3.6         read      draft ISO 8092-7, scope: up to 3.6
usb_2              3.4..5.3    memory    USB 2.0 specification, cable
usb_c_full         4.5..6      memory    USB Type-C specification, cable
hdmi_30awg         5.5         memory    data sheets, 30 AWG
hdmi_28awg         7.3         memory    data sheets, 28 AWG
hdmi_24awg         8..9        memory    data sheets, 24 AWG
plastic_fibre      2.3         memory    data sheets, core 1.0
audio_single       2.8..4      memory    data sheets, one screened core
audio_twin         6..8        memory    data sheets, 3 x 6 to 4 x 8 flat: the wider side
speaker_twin_0_75  4.4         memory    data sheets, 2.2 x 4.4 flat: the wider side
speaker_twin_1_5   5.8         memory    data sheets, 2.9 x 5.8 flat: the wider side
aerial_lead        4..5        practice  no source
power_tail         10..14      practice  no source
av_tail            8..10       practice  no source
";

#[test]
fn cables_have_their_published_diameters() {
    let library = Library::embedded();
    for ([id, od, known], source) in rows(CABLES) {
        let cable: CablePart = part(&library, id);
        check(&format!("{id} ({source})"), &cable.od, figure(od));
        assert_eq!(cable.known.how, how(known), "{id}");
    }
}

/// Wires by their outside diameters. ISO 6722-1: largest, within 0.1. SAE
/// J1128: nominal, the strand and two walls, within 5 %.
const WIRES: &str = "
iso_thin        0_13=1.05 0_22=1.2 0_35=1.4 0_5=1.6 0_75=1.9 1=2.1 1_25=2.3 1_5=2.4 2=2.8 2_5=3 3=3.4 4=3.7 6=4.3 10=6
iso_ultra_thin  0_13=0.95 0_22=1.05 0_35=1.2 0_5=1.4 0_75=1.6 1=1.75 1_5=2.1 2_5=2.7
txl             22=1.57 20=1.78 18=2.01 16=2.26 14=2.64 12=3.23 10=3.94
gxl             20=2.13 18=2.36 16=2.62 14=3 12=3.63 10=4.5
sxl             20=2.44 18=2.72 16=3.07 14=3.61 12=4.19 10=5
gpt             20=2.13 18=2.36 16=2.62 14=3
";

/// The metric tables are from memory; the gauges are computed, with walls from
/// memory, but for GPT: 0.58 (0.023 in), read in a wire primer, as of GXL.
#[test]
fn wires_have_the_diameters_of_their_tables() {
    let library = Library::embedded();
    let mut listed = 0;
    for ([family], sizes) in rows(WIRES) {
        let (how, standard) = match family.starts_with("iso") {
            true => (HowKnown::FromMemory, "ISO 6722-1"),
            false => (HowKnown::Computed, "SAE J1128"),
        };
        for size in sizes.split(' ') {
            let (size, od) = size.split_once('=').expect("a size and its diameter");
            let id = format!("{family}_{size}");
            let wire: CablePart = part(&library, &id);
            check(&id, &wire.od, figure(od));
            assert_eq!(wire.known.how, how, "{id}");
            assert!(wire.known.source.starts_with(standard), "{id}");
            // IPC/WHMA-A-620, bend table, from memory.
            assert_eq!(wire.published.times_od, Some(3.0), "{id}");
            assert_eq!(wire.published.known.how, HowKnown::FromMemory, "{id}");
            listed += 1;
        }
    }
    let wires = |id: &&str| WIRES.contains(&format!("\n{} ", family_of(id)));
    assert_eq!(library.ids::<CablePart>().filter(wires).count(), listed);
}

/// `iso_thin` of `iso_thin_0_13`.
fn family_of(id: &str) -> &str {
    id.trim_end_matches(|c: char| c.is_ascii_digit() || c == '_')
}

/// Published inside radii in outside diameters.
const BENDS: &str = "
rg58                      6   read    NASA-STD-8739.4, 7.3, individual coax
aerial_lead               6   read    NASA-STD-8739.4, 7.3, individual coax
mini_coax                 6   read    NASA-STD-8739.4, 7.3, individual coax
multi_conductor           6   read    NASA-STD-8739.4, 7.3.21
multi_conductor_for_good  10  read    NASA-STD-8739.4, 7.3.21
ethernet_lead             4   read    IPC/WHMA-A-620, bend table, Ethernet-type cable
usb_2                     5   read    IPC/WHMA-A-620, bend table, shielded
usb_c_full                5   read    IPC/WHMA-A-620, bend table, shielded
hdmi_slim                 5   read    IPC/WHMA-A-620, bend table, shielded
hdmi_30awg                5   read    IPC/WHMA-A-620, bend table, shielded
hdmi_28awg                5   read    IPC/WHMA-A-620, bend table, shielded
hdmi_24awg                5   read    IPC/WHMA-A-620, bend table, shielded
rca_lead                  5   read    IPC/WHMA-A-620, bend table, shielded
camera_lead               5   read    IPC/WHMA-A-620, bend table, shielded
audio_single              5   read    IPC/WHMA-A-620, bend table, shielded
audio_twin                5   read    IPC/WHMA-A-620, bend table, shielded
speaker_twin_0_75         3   memory  IPC/WHMA-A-620, bend table, unshielded
speaker_twin_1_5          3   memory  IPC/WHMA-A-620, bend table, unshielded
";

#[test]
fn cables_bend_as_published() {
    let library = Library::embedded();
    for ([id, times, known], source) in rows(BENDS) {
        let rule = part::<CablePart>(&library, id).published;
        assert_eq!(rule.times_od, Some(figure(times)[0]), "{id}");
        assert_eq!(rule.measured, BendLineFile::Inside, "{id}");
        assert_eq!(rule.known.how, how(known), "{id}");
        assert!(rule.known.source.starts_with(source), "{id}");
    }
    // Plastic optical fibre in a harness: an average radius of 25 mm, not less,
    // whichever rules are in force (harness design article, read).
    let fibre: CablePart = part(&library, "plastic_fibre");
    check(
        "plastic_fibre",
        &fibre.published.radius.expect("a radius"),
        [25.0; 2],
    );
    assert_eq!(fibre.published.known.how, HowKnown::Read);
    assert_eq!(fibre.shop, None);
}

/// Coax: 6 x OD inside (NASA-STD-8739.4, 7.3, read) after at least 6 x OD of
/// straight cable behind any backshell (NASA workmanship pictorial, book 4,
/// 4.04 Coaxial, read). Fitters keep no straight run.
const COAX: [&str; 11] = [
    "rg58",
    "rg59",
    "rg223",
    "rg174",
    "rg178",
    "rg316",
    "rg6",
    "low_loss_100",
    "mini_coax",
    "aerial_lead",
    "satellite_lead",
];

#[test]
fn coax_alone_runs_straight_behind_its_plug_where_published_rules_count() {
    let library = Library::embedded();
    for id in library.ids::<CablePart>() {
        let is_coax = COAX.contains(&id);
        let cable = in_a_job(id, "published", &library);
        let od = cable.od.value();
        let run = if is_coax { 6.0 * od } else { 0.0 };
        assert!((cable.straight_run - run).abs() < 1e-9, "{id}");
        if is_coax {
            let centreline = cable.rule(RuleSet::Published).centreline(od);
            assert!((centreline - 6.5 * od).abs() < 1e-9, "{id}");
        }
        assert_eq!(in_a_job(id, "shop", &library).straight_run, 0.0, "{id}");
    }
}

/// The cable of a job of one lead.
fn in_a_job(id: &str, rules: &str, library: &Library) -> geometry::Cable {
    let text = format!(
        "format: 1
name: one lead
bend_rules: {rules}
cavity:
  opening: {{ width: 184, height: 120 }}
  exits: [{{ id: out, name: way out, centre: [0, 300, 0], direction: [0, 1, 0], diameter: 30 }}]
unit: full_depth
mount: kit_pocket
leads: [{{ id: L, name: lead, module: M, plug: aerial, cable: {id}, end: {{ exit: out }} }}]
modules: [{{ id: M, name: module, part: small_interface }}]
"
    );
    let opened = open_text(&text, id, None, library).unwrap_or_else(|bad| panic!("{bad:#?}"));
    opened.job.leads[0].cable.clone()
}

/// Plugs by width, height and what stands out of the socket. Standards fix the
/// mating part and leave most bodies free.
const PLUGS: &str = "
usb_a              16          8        27..45  memory    USB 2.0 specification, chapter 6: over-mould at most 16.0 x 8.0; length typical
usb_a_right_angle  16          8        15..22  memory    USB 2.0 specification, chapter 6; length typical
usb_c              12.35       6.5      21..35  memory    USB Type-C specification: over-mould at most 12.35 x 6.50, to about 35 long
hdmi_a             20..22      10..12   33..43  memory    HDMI specification, 4.1.9: typically 21 x 11 x 40
hdmi_c             13..17      8..10    27..37  memory    HDMI specification, type C: shell 10.42 x 2.42 read, body typical
hdmi_d             10..14      7..9     23..33  memory    HDMI specification, type D: shell 6.4 x 2.8 read, body typical
auto_coax          9..13       14..15   25..30  memory    ISO 20860-1, single housing
auto_coax_double   21.7..25.7  14..15   25..30  computed  ISO 20860-1, DIN 72594-1: 11 from memory and the pitch of 12.7, read
rca                10..13      10..13   30..45  memory    IEC 60603-14: interface only, grips 10 to 13
jack_3_5           8..10       8..10    20..30  memory    IEC 60603-11: body free
aerial             11..15      11..15   28..40  memory    ISO 10599-1:1992: outer contact about 9.5, grip free
power_blocks       47..53      18..22   30..35  memory    ISO 10487, chambers A and B: contacts only
main_20way         34..50      15..21   18..26  practice  no standard: crimp housings of 20 to 24 ways
av_16way           26..38      12..16   16..24  practice  no standard
";

#[test]
fn plugs_stand_out_as_published() {
    let library = Library::embedded();
    for ([id, width, height, length, known], source) in rows(PLUGS) {
        let plug: PlugPart = part(&library, id);
        let straight = plug.straight.map(|file| file.body);
        let stands = plug.right_angle.map(|file| file.stands);
        let of = |side: &str| format!("{side} of {id} ({source})");
        check(&of("width"), &plug.width, figure(width));
        check(&of("height"), &plug.height, figure(height));
        let body = straight.or(stands).expect("one of the two");
        check(&of("length"), &body, figure(length));
        assert_eq!(plug.known.how, how(known), "{id}");
    }
    // USB Type-C specification, shell (from memory); IEC 60603-11, shank.
    for (id, depth) in [("usb_c", 6.65), ("jack_3_5", 14.0)] {
        let mating = part::<PlugPart>(&library, id).mating_depth;
        check(id, &mating.expect("a mating depth"), [depth; 2]);
    }
}

/// Wires of a tail drawn tight, by the best known packings of equal circles
/// (18 in a circle of 4.8637 of their radii, 14 in one of 4.3284): they lie
/// within the round that the tail makes in the hand.
#[test]
fn the_wires_of_a_tail_lie_within_it() {
    let library = Library::embedded();
    for (id, count, ratio) in [("power_tail", 18, 4.8637), ("av_tail", 14, 4.3284)] {
        let cable: CablePart = part(&library, id);
        let wires = cable.wires.expect("an open tail");
        let [one, _] = band(&wires.od);
        assert_eq!(wires.count, count, "{id}");
        assert!(ratio * one <= band(&cable.od)[1], "{id}");
        // The published radius is three diameters of one wire.
        let radius = cable.published.radius.expect("a radius");
        check(id, &radius, [3.0 * one; 2]);
    }
}
