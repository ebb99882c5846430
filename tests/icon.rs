//! The pictures in the repository are those the code draws.

use std::path::Path;

use acceptance::icon;

#[test]
fn the_pictures_are_those_of_the_documented_command() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/assets");
    let svg = std::fs::read_to_string(folder.join("seatwell.svg")).expect("it is there");
    assert_eq!(svg, icon::svg());
    for side in [16, 32, 48, 64, 128, 256] {
        let path = folder.join(format!("seatwell-{side}.png"));
        let there = image::open(&path).expect("it is there").to_rgba8();
        assert_eq!(there, icon::png(side), "{}", path.display());
    }
}

#[test]
fn the_desktop_file_names_the_program_and_its_picture() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/assets/seatwell.desktop");
    let text = std::fs::read_to_string(path).expect("it is there");
    for line in [
        "Exec=seatwell open %f",
        "Icon=seatwell",
        "StartupWMClass=seatwell",
    ] {
        assert!(text.lines().any(|it| it == line), "{line}");
    }
}
