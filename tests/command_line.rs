//! The command line on real files: what it prints and how it ends.

use std::process::{Command, Output};

use serde_json::Value;

fn seatwell(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_seatwell"))
        .args(arguments)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        // No folder of the user's own parts may reach into a test.
        .env("XDG_DATA_HOME", "/nonexistent")
        .output()
        .expect("the program runs")
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("the program ends by itself")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("output is text")
}

fn json(arguments: &[&str]) -> Value {
    serde_json::from_slice(&seatwell(arguments).stdout).expect("JSON on standard output")
}

#[test]
fn exit_codes_tell_flush_proud_and_blocked_apart() {
    assert_eq!(code(&seatwell(&["check", "town-taxi"])), 0);
    assert_eq!(code(&seatwell(&["check", "demo"])), 2);
    assert_eq!(code(&seatwell(&["check", "no-such-job"])), 3);
    assert_eq!(code(&seatwell(&["check"])), 3);
    assert_eq!(code(&seatwell(&["chekc", "demo"])), 3);
    assert_eq!(code(&seatwell(&["--help"])), 0);
}

#[test]
fn a_proud_job_within_its_limit_ends_with_one() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("camper-with-u110.yaml");
    let camper = profiles::embedded_job("camper").unwrap();
    let opened = profiles::read_job(camper, "camper").unwrap();
    let mut job = opened.file;
    let short = job
        .alternatives
        .iter()
        .find(|it| it.id == "u110")
        .unwrap()
        .clone();
    job.unit = short.unit.unwrap();
    job.alternatives.clear();
    std::fs::write(&file, profiles::to_yaml(&job)).unwrap();
    let output = seatwell(&["check", file.to_str().unwrap()]);
    assert_eq!(code(&output), 1, "{}", text(&output.stderr));
    assert!(text(&output.stdout).contains("Stands 2.5 mm proud"));
}

#[test]
fn check_says_the_verdict_first() {
    let out = text(&seatwell(&["check", "demo"]).stdout);
    let lines: Vec<&str> = out.lines().collect();
    assert!(lines[0].contains("Brackenmoor"));
    assert_eq!(
        lines[2].trim(),
        "Stands 13.5 mm proud: the main plug meets the data module."
    );
    assert!(lines[3].contains("9.3 mm"), "{}", lines[3]);
    assert!(out.contains("218.25"), "the chain adds up to hundredths");
    assert!(out.contains("Cautions"));
}

#[test]
fn check_answers_in_inches_when_asked() {
    let out = text(&seatwell(&["check", "demo", "--inches"]).stdout);
    assert!(out.contains("Stands 17/32 in proud"), "{out}");
}

#[test]
fn check_json_keeps_its_contract() {
    let answer = json(&["check", "demo", "--json"]);
    assert_eq!(answer["layer"], "chain");
    assert_eq!(answer["verdict"], "blocked");
    assert_eq!(answer["proof"], "closed_form");
    assert_eq!(answer["proud_mm"], 13.5);
    assert_eq!(answer["chain_proud_mm"], 13.5);
    assert_eq!(answer["proud_corners_mm"].as_array().unwrap().len(), 4);
    assert_eq!(answer["proud_range_mm"].as_array().unwrap().len(), 2);
    assert!(answer["proud_lower_bound_mm"].is_number());
    assert!(answer["look_proud_mm"].is_number());
    assert_eq!(answer["margin_mm"], -13.5);
    assert_eq!(answer["stopped_by"][0]["short_mm"], 13.5);
    for key in ["what", "piece", "against"] {
        assert!(answer["stopped_by"][0][key].is_string(), "{key}");
    }
    let link = answer["chain"]
        .as_array()
        .unwrap()
        .iter()
        .find(|link| link["lead"] == "L5")
        .unwrap();
    for (key, value) in [
        ("setback_mm", 2.0),
        ("chassis_mm", 165.0),
        ("plug_mm", 32.0),
        ("turn_mm", 19.25),
        ("needed_mm", 218.25),
        ("available_mm", 209.0),
        ("margin_mm", -9.25),
    ] {
        assert_eq!(link[key], value, "{key}");
    }
    assert_eq!(link["against"], "R1");
    // Parts of the answer that are not built yet are absent, never empty.
    for key in ["routes", "stow", "trims", "odds"] {
        assert!(answer.get(key).is_none(), "{key}");
    }
    assert_eq!(
        json(&["check", "camper", "--json"])["best"],
        "u110-right-angle"
    );
}

/// The figures are worked by hand in `tests/notches.rs`.
#[test]
fn notches_of_the_job_stand_in_its_answers() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("notched.yaml");
    let (_, demo) = (profiles::embedded_jobs().into_iter())
        .find(|(name, _)| *name == "post-van")
        .unwrap();
    let notch = "trims:\n- { rib: R1, edge: lower, along: [30, 58], depth: 12.5, radius: 4 }\n";
    let write = |text: &str| std::fs::write(&file, demo.to_owned() + text).unwrap();
    let path = file.to_str().unwrap();
    write(notch);
    let answer = json(&["check", path, "--json"]);
    let rib = &answer["trims"][0];
    assert_eq!(rib["rib"], "R1");
    let near = |value: &Value, expected: f64, by: f64| {
        let value = value.as_f64().unwrap();
        assert!((value - expected).abs() < by, "{value} for {expected}");
    };
    near(&rib["removed_mm2"], 343.13, 0.01);
    near(&rib["removed_cm3"], 0.8578, 0.0001);
    near(&rib["web_mm"], 25.5, 1e-9);
    near(&rib["stiffness_kept"]["centre"], 0.70, 0.01);
    near(&rib["stiffness_kept"]["at_notch"], 0.49, 0.01);
    near(&rib["stiffness_kept"]["strip"][0], 0.76, 0.005);
    assert_eq!(
        rib["stiffness_kept"]["least"],
        rib["stiffness_kept"]["at_notch"]
    );
    // The outline is the rib's as cut: its area is what is left.
    let points = rib["outline"].as_array().unwrap();
    let at = |i: usize, axis: usize| points[i % points.len()][axis].as_f64().unwrap();
    let twice: f64 = (0..points.len())
        .map(|i| at(i, 0) * at(i + 1, 2) - at(i, 2) * at(i + 1, 0))
        .sum();
    assert!(
        (0.5 * twice.abs() - (7448.0 - 343.13)).abs() < 0.5,
        "{twice}"
    );
    assert_eq!(
        rib["faults"],
        serde_json::json!(["lower edge, 30 to 58: 12.5 mm is no whole step of 1 mm"])
    );
    assert_eq!(answer["tabs_off"][0]["tab"], "T1");
    let plain = json(&["plain", path, "--json"]);
    assert_eq!(plain["trims"][0]["carried_out"], true);
    assert_eq!(
        plain["trims"][0]["along_mm"],
        serde_json::json!([30.0, 58.0])
    );
    let fixed = plain["fixed"].as_array().unwrap();
    let rib = fixed.iter().find(|it| it["id"] == "R1").unwrap();
    let corners = rib["solid"]["prism"]["outline"].as_array().unwrap();
    assert!(corners.len() > 8, "the rib as cut is an outline");
    write(&notch.replace("R1", "S1"));
    let out = seatwell(&["check", path]);
    assert_eq!(code(&out), 3);
    let said = text(&out.stderr);
    assert!(said.contains("a beam is never cut"), "{said}");
}

#[test]
fn loom_gives_every_exit_its_loom() {
    let out = text(&seatwell(&["loom", "demo"]).stdout);
    for words in [
        "gap in the left wall (left)",
        "main plug",
        "hand rule",
        "Passes its exit",
        "the aerial lead asks for most",
    ] {
        assert!(out.contains(words), "{words}: {out}");
    }
    let looms = json(&["loom", "demo", "--json"])["looms"].clone();
    let in_check = json(&["check", "demo", "--json"])["looms"].clone();
    assert_eq!(looms.as_array().unwrap().len(), 4);
    for (loom, short) in looms
        .as_array()
        .unwrap()
        .iter()
        .zip(in_check.as_array().unwrap())
    {
        for key in ["exit", "leads", "diameter_mm", "fill"] {
            assert_eq!(loom[key], short[key], "{key}");
        }
    }
    // One cable is a loom as thick as itself: the satellite aerial, 3 mm.
    let one = json(&["loom", "demo", "--exit", "up_left", "--json"]);
    assert_eq!(one["looms"][0]["diameter_mm"], 3.0);
    assert_eq!(one["looms"].as_array().unwrap().len(), 1);
    assert_eq!(code(&seatwell(&["loom", "demo", "--exit", "nowhere"])), 3);
    assert_eq!(code(&seatwell(&["loom", "no-such-job"])), 3);
}

/// Seven equal circles lie in a circle of three times their diameter (Graham, "Sets of
/// points with given minimum separation", American Mathematical Monthly 75, 1968); two
/// unequal ones in one of both together, which is plain.
#[test]
fn loom_packs_given_diameters() {
    let seven = json(&["loom", "--od", "7x2.4", "--json"]);
    let diameter = seven["diameter_mm"].as_f64().unwrap();
    assert!((diameter - 7.2).abs() < 1e-6, "{diameter}");
    assert_eq!(seven["circles"].as_array().unwrap().len(), 7);
    let two = json(&["loom", "--od", "6,1/8 in", "--json"]);
    let diameter = two["diameter_mm"].as_f64().unwrap();
    assert!((diameter - 9.175).abs() < 1e-6, "{diameter}");
    assert_eq!(two["circles"][1]["od_mm"], 3.175);
    let said = text(&seatwell(&["loom", "--od", "12, 9"]).stdout);
    assert!(
        said.starts_with("2 cables lie in a round of 21 mm"),
        "{said}"
    );
    for bad in ["", "x3", "0x3", "3,", "-2", "?", "soon", "9999999x1"] {
        let option = format!("--od={bad}");
        assert_eq!(code(&seatwell(&["loom", &option])), 3, "{bad}");
    }
    assert_eq!(code(&seatwell(&["loom"])), 3);
    assert_eq!(code(&seatwell(&["loom", "demo", "--od", "3"])), 3);
}

#[test]
fn plain_gives_every_solid() {
    let plain = json(&["plain", "demo", "--json"]);
    let fixed = plain["fixed"].as_array().unwrap();
    for id in ["R1", "B1", "R2", "S1", "A1", "D1", "FL", "HB", "M1", "M2"] {
        assert!(fixed.iter().any(|solid| solid["id"] == id), "{id}");
    }
    assert_eq!(plain["leads"].as_array().unwrap().len(), 11);
    assert_eq!(plain["opening"]["width_mm"], 184.0);
    let beam = fixed.iter().find(|solid| solid["id"] == "S1").unwrap();
    assert_eq!(beam["cut"]["rule"], "never");
    let text = text(&seatwell(&["plain", "demo"]).stdout);
    assert!(text.contains("chassis_rear_mm: 167"), "{text}");
}

#[test]
fn plain_says_how_looms_and_tails_are_made_up() {
    let plain = json(&["plain", "demo", "--json"]);
    let loom = &plain["looms"][0];
    assert_eq!(
        (&loom["exit"], &loom["wrap_mm"]),
        (&"left".into(), &0.54.into())
    );
    assert_eq!(loom["taped"][0]["leads"], serde_json::json!(["L6", "L7"]));
    assert_eq!(loom["taped"][0]["wrap_mm"], 0.27);
    let tail = serde_json::json!({ "wires": 18, "od_mm": 2.4 });
    assert_eq!(plain["leads"][0]["tail"], tail);
    assert!(plain["leads"][2]["tail"].is_null());
}

#[test]
fn parts_name_their_sources() {
    let out = text(&seatwell(&["parts"]).stdout);
    assert!(
        out.contains("ISO 6722-1") && out.contains("SAE J1128"),
        "{out}"
    );
    assert!(json(&["parts", "--json"]).as_array().unwrap().len() > 60);
}

#[test]
fn quick_answers_from_few_figures_and_says_what_to_measure() {
    let known = [
        "quick",
        "--width",
        "182",
        "--height",
        "106",
        "--behind",
        "230",
        "--chassis",
        "165",
        "--setback",
        "2",
        "--plug",
        "34",
        "--cable",
        "5",
    ];
    // 2 + 165 + 34 + 4 x 5 + 2.5 = 223.5 against 230 - 3.
    let out = seatwell(&known);
    assert_eq!(code(&out), 0);
    assert!(
        text(&out.stdout).contains("Seats flush, 3.5 mm to spare"),
        "{}",
        text(&out.stdout)
    );

    let out = seatwell(&[
        "quick",
        "--chassis",
        "165",
        "--setback",
        "2",
        "--plug",
        "34",
        "--cable",
        "5",
    ]);
    let said = text(&out.stdout);
    assert!(said.contains("not everything was measured"), "{said}");
    assert!(said.contains("Measure next"), "{said}");
    assert_eq!(code(&seatwell(&["quick", "--behind", "soon"])), 3);
}

#[test]
fn bad_files_end_with_three_and_name_file_line_and_field() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bad.yaml");
    let good = profiles::embedded_job("demo").unwrap();
    std::fs::write(
        &file,
        good.replace("proud_limit_mm: 3", "proud_limit_mm: three"),
    )
    .unwrap();
    let output = seatwell(&["check", file.to_str().unwrap()]);
    let said = text(&output.stderr);
    assert_eq!(code(&output), 3, "{said}");
    assert!(output.stdout.is_empty());
    assert!(
        said.contains("bad.yaml:") && said.contains("proud_limit_mm"),
        "{said}"
    );
    assert!(said.contains("three") && said.contains("allowed"), "{said}");
    assert!(!said.contains("panicked"), "{said}");
}

#[test]
fn without_a_display_the_demo_is_answered_in_words() {
    let output = seatwell(&[]);
    let said = text(&output.stdout);
    assert_eq!(code(&output), 0, "{said}");
    assert!(
        said.starts_with("No window: there is no display here."),
        "{said}"
    );
    assert!(said.contains("Stands 13.5 mm proud"), "{said}");
}

#[test]
fn schemas_are_json() {
    for of in ["job", "parts", "unit"] {
        assert!(json(&["schema", of])["properties"].is_object(), "{of}");
    }
}

/// A lip behind the opening that only a tilted unit passes.
#[test]
fn a_way_in_that_is_not_straight_is_told() {
    let job = "\
format: 1
name: behind a lip
cavity:
  opening: { width: 184, height: 106 }
  finished_face: 40
  obstacles:
  - { id: LIP, name: lip, kind: rib, box: { across: [-150, 150], depth: [30, 31], up: [45, 90] }, clear: 0 }
unit:
  id: set_back
  name: set-back unit
  chassis: { width: 178, height: 100, depth: 120 }
  nose: { width: 120, height: 40, thickness: 10, seat: laps }
  mass_kg: 1
  known: { how: invented }
mount: { use: kit_pocket, with: { setback: 40 } }
";
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("lip.yaml");
    std::fs::write(&file, job).unwrap();
    let path = file.to_str().unwrap();
    let routed = seatwell(&["check", path, "--layer", "routed"]);
    let said = text(&routed.stdout);
    assert!(
        said.contains("Enter tilted"),
        "{said} {}",
        text(&routed.stderr)
    );
    assert!(said.contains("rear low; level from depth"), "{said}");
    let answer = json(&["check", path, "--layer", "routed", "--json"]);
    let way = &answer["slide_in"];
    assert_eq!(
        (&way["straight"], &way["rear"]),
        (&false.into(), &"low".into())
    );
    assert!(way["tilt_deg"].as_f64().unwrap() >= 4.37);
    assert!(way["spare_at_least_mm"].as_f64().unwrap() > 0.0);
    assert!(way["way"].as_array().unwrap().len() > 2);
    let steep = folder.path().join("level.yaml");
    std::fs::write(
        &steep,
        job.replace("format: 1", "format: 1\nenter_tilt_deg: 2"),
    )
    .unwrap();
    let answer = json(&[
        "check",
        steep.to_str().unwrap(),
        "--layer",
        "routed",
        "--json",
    ]);
    assert_eq!(answer["slide_in"]["straight"], true);
    assert_eq!(answer["slide_in_barred"]["most_tilt_deg"], 2.0);
    assert_eq!(answer["proof"], "search_gave_up");
}

#[test]
fn the_least_cut_is_answered_in_words_and_in_json() {
    // As found the data module holds it out: no cut helps.
    let as_found = seatwell(&["trim", "demo", "--proud", "0", "--json"]);
    assert_eq!(code(&as_found), 2, "{}", text(&as_found.stderr));
    let answer: Value = serde_json::from_slice(&as_found.stdout).unwrap();
    assert_eq!(answer["outcome"], "no_cut_helps");
    assert_eq!(answer["trims"].as_array().unwrap().len(), 0);
    assert_eq!(answer["proud_lower_bound_mm"], 13.5);

    let moved = seatwell(&[
        "trim", "demo", "--with", "move-m1", "--proud", "0", "--json",
    ]);
    assert_eq!(code(&moved), 0, "{}", text(&moved.stderr));
    let answer: Value = serde_json::from_slice(&moved.stdout).unwrap();
    assert_eq!(
        (&answer["outcome"], &answer["verdict"]),
        (&"cut".into(), &"flush".into())
    );
    let trims = answer["trims"].as_array().unwrap();
    assert_eq!(trims.len(), 1);
    assert_eq!(trims[0]["rib"], "R1");
    // Common practice, no source: keep most of the inner support.
    assert!(trims[0]["removed_share"].as_f64().unwrap() < 0.25);
    let kept = trims[0]["stiffness_kept"]["centre"].as_f64().unwrap();
    assert!((0.6..1.0).contains(&kept), "{kept}");
    assert!(trims[0]["outline"].as_array().unwrap().len() > 8);
    assert!(answer["cautions"].as_array().unwrap().len() >= 4);

    let words = text(&seatwell(&["trim", "demo", "--with", "move-m1", "--proud", "0"]).stdout);
    for said in [
        "Seats flush with",
        "rear cross rib",
        "Airbags",
        "proves no strength",
        "gets at it",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
}

/// The post van with some text put before its leads.
fn post_van_with(folder: &tempfile::TempDir, text: &str) -> String {
    let file = folder.path().join("changed.yaml");
    let (_, demo) = (profiles::embedded_jobs().into_iter())
        .find(|(name, _)| *name == "post-van")
        .unwrap();
    let changed = demo.replacen("\nleads:\n", &format!("\n{text}leads:\n"), 1);
    assert_ne!(changed, demo);
    std::fs::write(&file, changed).unwrap();
    file.to_str().unwrap().to_owned()
}

#[test]
fn notches_of_the_job_are_listed_with_their_cautions() {
    let folder = tempfile::tempdir().unwrap();
    let trims = "trims:\n- { rib: R1, edge: lower, along: [30, 58], depth: 12 }\n- { rib: R1, edge: lower, along: [60, 80], depth: 12 }\n";
    let path = post_van_with(&folder, trims);
    let words = text(&seatwell(&["check", &path]).stdout);
    for said in [
        "What is cut\n",
        "  - rear cross rib: notch from the lower edge, 30 to 58 across, 12 mm deep, corners R 4\n",
        "  - rear cross rib: 0.82 cm3 gone; keeps about 70 % of its stiffness pushed at its middle, 50 % at the notch\n",
        "rear cross rib: the notch from 60 to 80 counts as not there: ",
        "proves no strength",
        "Look behind before any cut: ",
        "Cannot be undone: ",
        "Structure: ",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    let bare = text(&seatwell(&["check", "demo"]).stdout);
    assert!(!bare.contains("What is cut"), "{bare}");
}

#[test]
fn a_cut_that_needs_a_strip_says_so_everywhere() {
    let folder = tempfile::tempdir().unwrap();
    let asks = "cutting: { keep_stiffness_percent: 96 }\nrib_loads:\n- { rib: R1, along: 20, acts: in_plane, force_n: 12 }\n- { rib: R1, along: -40, acts: out_of_plane, force_n: 5 }\n";
    let path = post_van_with(&folder, asks);
    let with = |more: &[&str]| {
        let arguments = ["trim", &path, "--with", "move-m1"];
        let output = seatwell(&[&arguments[..], more].concat());
        assert_eq!(code(&output), 0, "{}", text(&output.stderr));
        text(&output.stdout)
    };
    let words = with(&["--proud", "0"]);
    for said in [
        "Needs a doubler strip over what is left of the rear cross rib: without one, no cut was found",
        "needs a doubler strip, 3 mm thick, 25 mm high, 30 mm beyond each side, over what is left",
        "without a strip it keeps about 90 %",
        "under what hangs on it",
        "under 12 N in its plane at 20 mm, 5 N square to it at -40 mm: in its plane ",
        "pushed at its middle: in its plane ",
        "corners of notch 1, R 4 mm: stress ",
        "the strip has no room on either face of the rib: the rear RCA pair is 1 mm too near",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    // Exact figures and stress stand in the details, after the main lines.
    let at = |said: &str| {
        words
            .find(said)
            .unwrap_or_else(|| panic!("{said}: {words}"))
    };
    assert!(
        at("\n  details\n") < at("corners of notch 1") && at("\n  details\n") < at("hand check")
    );
    let answer: Value = serde_json::from_str(&with(&["--proud", "0", "--json"])).unwrap();
    assert_eq!(answer["outcome"], "cut_with_strips");
    assert_eq!(answer["needs_strips"], true);
    let rib = &answer["trims"][0];
    let share = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{rib:#}"));
    assert!(share(&rib["stiffness_kept"]["centre"]) > 0.96);
    assert!(share(&rib["stiffness_without_strips"]["centre"]) < 0.96);
    let own = &rib["stiffness_kept"]["own_loads"];
    for way in ["in_plane", "out_of_plane"] {
        assert!(
            share(&own[way]["value"]) > share(&own[way]["error"]),
            "{own}"
        );
    }
    let notch = &rib["notches"][0];
    assert_eq!(notch["doubler"]["thickness_mm"], 3.0);
    assert!(share(&notch["corner_stress"]["factor"]) > 0.5);
    let steps = with(&["--steps"]);
    assert!(
        steps.contains("needs a doubler strip, no cut found without"),
        "{steps}"
    );
    // Asked for less, it needs none and says nothing of one.
    let usual = text(&seatwell(&["trim", "demo", "--with", "move-m1", "--proud", "0"]).stdout);
    assert!(!usual.contains("doubler"), "{usual}");
    let plain = json(&["plain", &path, "--json"]);
    assert_eq!(plain["rib_loads"][1]["acts"], "out_of_plane");
}

#[test]
fn steps_of_proud_rise_and_need_ever_less() {
    let answer = json(&["trim", "demo", "--with", "move-m1", "--steps", "--json"]);
    let steps = answer["steps"].as_array().unwrap();
    assert!(steps.len() > 3);
    for pair in steps.windows(2) {
        let figure = |step: &Value, key: &str| step[key].as_f64().unwrap();
        assert!(figure(&pair[0], "proud_mm") < figure(&pair[1], "proud_mm"));
        assert!(figure(&pair[0], "removed_cm3") >= figure(&pair[1], "removed_cm3"));
    }
    assert_eq!(steps.last().unwrap()["outcome"], "nothing_to_cut");
}

#[test]
fn bad_arguments_of_a_cut_are_answered() {
    for (arguments, said) in [
        (
            &["trim", "demo", "--proud", "20"][..],
            "--proud: found 20; allowed: 0 to 15 mm",
        ),
        (
            &["trim", "demo", "--with", "nope"][..],
            "--with: found 'nope'; allowed: move-m1",
        ),
        (
            &["trim", "demo", "--leave-alone", "nope"][..],
            "--leave-alone: found 'nope'; allowed: R1",
        ),
    ] {
        let output = seatwell(arguments);
        assert_eq!(code(&output), 3);
        let stderr = text(&output.stderr);
        assert!(stderr.contains(said), "{stderr}");
    }
}
