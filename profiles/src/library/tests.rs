use super::*;
use crate::open::{open_job, open_text};
use crate::schema::HowKnown;

#[test]
fn every_embedded_job_inlines_without_a_fault_or_a_warning() {
    let library = Library::embedded();
    let names: Vec<&str> = embedded_jobs().into_iter().map(|(name, _)| name).collect();
    assert_eq!(names, ["camper", "farm-hauler", "post-van", "town-taxi"]);
    for name in names {
        let opened = open_job(name, &library).unwrap_or_else(|e| panic!("{name}: {e:#?}"));
        assert_eq!(opened.warnings, [], "{name}");
        assert_eq!(opened.job.unmeasured, [""; 0], "{name}");
    }
}

#[test]
fn every_bend_rule_has_a_source() {
    let library = Library::embedded();
    for cable in library.cables.values() {
        for rule in [Some(&cable.published), cable.shop.as_ref()]
            .into_iter()
            .flatten()
        {
            assert_ne!(rule.known.how, HowKnown::NotSaid, "{}", cable.id);
            assert!(!rule.known.source.is_empty(), "{}", cable.id);
        }
    }
}

/// A job with as little in it as there can be, to try a part in.
const BARE: &str = "\
format: 1
name: bare
cavity:
  opening: { width: 184, height: 120 }
  exits:
  - { id: out, name: way out, centre: [0, 300, 0], direction: [0, 1, 0], diameter: 30 }
unit: full_depth
mount: kit_pocket
";

/// A lead on a module, so that any plug may be on it.
#[test]
fn what_usually_leaves_a_plug_is_in_the_library() {
    let library = Library::embedded();
    for plug in library.ids::<PlugPart>() {
        let part = library.get::<PlugPart>(plug).expect("it is listed");
        let usual = part.usual.as_ref().unwrap_or_else(|| panic!("{plug}"));
        let cable = library.get::<CablePart>(&usual.cable);
        assert!(cable.is_some(), "{plug}: {}", usual.cable);
        assert!((1..=4).contains(&usual.cables), "{plug}");
    }
}

fn lead_with(plug: &str, cable: &str) -> String {
    format!(
        "leads:
- {{ id: L, name: lead, module: M, plug: {plug}, cable: {cable}, end: {{ exit: out }} }}
modules:
- {{ id: M, name: module, part: small_interface }}
"
    )
}

#[test]
fn every_embedded_part_inlines_without_a_fault() {
    let library = Library::embedded();
    for part in library.parts() {
        let id = part.id;
        let text = match part.kind {
            PartKind::Unit => BARE.replace("unit: full_depth", &format!("unit: {id}")),
            PartKind::Mount => BARE.replace("mount: kit_pocket", &format!("mount: {id}")),
            PartKind::Plug => format!("{BARE}{}", lead_with(id, "rg174")),
            PartKind::Cable => format!("{BARE}{}", lead_with("aerial", id)),
            PartKind::Wrap => format!("{BARE}looms:\n- {{ exit: out, wrap: {id} }}\n"),
            PartKind::Module => {
                format!("{BARE}modules:\n- {{ id: M, name: module, part: {id} }}\n")
            }
            PartKind::Tool => format!("{BARE}cutting: {{ tool: {id} }}\n"),
            PartKind::Material => BARE.replace(
                "  exits:",
                &format!(
                    "  obstacles:\n  - {{ id: R, name: rib, kind: rib, material: {id}, box: {{ across: [0, 1], depth: [300, 301], up: [0, 1] }} }}\n  exits:"
                ),
            ),
        };
        assert!(text.contains(id), "{id} is in the job");
        let opened = open_text(&text, id, None, &library);
        let opened = opened.unwrap_or_else(|problems| panic!("{id}: {problems:#?}"));
        assert_eq!(opened.warnings, [], "{id}");
    }
}

fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder for the test");
    for (name, text) in files {
        std::fs::write(folder.path().join(name), text).expect("the file is written");
    }
    folder
}

#[test]
fn a_part_of_the_users_folder_replaces_the_embedded_one_of_its_id() {
    let module = |size: &str| {
        format!("format: 1\nmodules:\n- {{ id: data_interface, name: mine, size: {size} }}\n")
    };
    let folder = folder(&[
        ("b.yaml", &module("[3, 2, 1]")),
        ("a.yaml", &module("[9, 9, 9]")),
        ("notes.txt", "not read"),
        (
            "c.yaml",
            "format: 1\nunits:\n- use: short_110\n  with: { id: mine, name: my unit, chassis.depth: 7-3/16 }\n",
        ),
    ]);
    let (library, problems) = Library::with_folder(folder.path());
    assert_eq!(problems, []);
    let module: &ModulePart = library.get("data_interface").expect("it is there");
    assert_eq!(
        module.size[0].as_written(),
        "3",
        "b.yaml comes after a.yaml"
    );
    let unit: &UnitPart = library.get("mine").expect("it is there");
    assert_eq!(unit.chassis.depth.as_written(), "7-3/16");
    assert_eq!(unit.chassis.height.as_written(), "100 ± 0.5");
    let count = |library: &Library| library.parts().len();
    assert_eq!(count(&library), count(&Library::embedded()) + 1);
}

#[test]
fn a_folder_that_is_not_there_holds_no_parts() {
    let (library, problems) = Library::with_folder(Path::new("no/such/folder"));
    assert_eq!(problems, []);
    assert_eq!(library, Library::embedded());
}

#[test]
fn what_is_wrong_with_a_users_part_is_said_by_file_and_line_and_the_rest_is_kept() {
    let folder = folder(&[(
        "mine.yaml",
        "\
format: 1
modules:
- { id: good, name: good, size: [3, 2, 1] }
- use: round
  with: { id: about, name: about }
- use: about
  with: { id: round, name: round }
- use: nothing
  with: { id: lost, name: lost }
- use: good
  with: { id: bad, name: bad, size.7: 3 }
- use: good
- { id: good, name: again, size: [3, 2, 1] }
",
    )]);
    let (library, problems) = Library::with_folder(folder.path());
    assert!(library.get::<ModulePart>("good").is_some());
    for id in ["about", "round", "lost", "bad"] {
        assert!(library.get::<ModulePart>(id).is_none(), "{id}");
    }
    let mut said: Vec<String> = problems
        .iter()
        .map(|problem| format!("{}: {}; {}", problem.line, problem.found, problem.allowed))
        .collect();
    said.sort();
    assert_eq!(
        said,
        [
            "10: with.size.7: no \"7\" in the list; 0, 1, 2 of the part",
            "12: use: \"good\" without an id of its own; with: that sets id and name",
            "13: the id \"good\" again; an id used once among the modules of a file",
            "4: \"about\" made from \"round\" made from itself; a part that is described in full at the end",
            "6: \"round\" made from \"about\" made from itself; a part that is described in full at the end",
            "8: use: \"nothing\"; the id of a module of the library",
        ]
    );
}
