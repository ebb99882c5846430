//! Remakes every picture in `screenshots/`: `cargo run -p acceptance --bin screenshots`.
//!
//! A folder as the first argument puts them there instead; the beginning of a
//! name as the second makes those alone.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use acceptance::window;
use egui::Theme;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use glam::{DVec2, DVec3};
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use seatwell::desk::canvas::camera::View;
use seatwell::desk::canvas::layers::Layer;
use seatwell::desk::edit::{
    Ask, DrawingAsk, Edit, ListEdit, PaperChoice, Step, Target, TurnedShown,
};
use seatwell::desk::{Desk, Settings};

/// One picture.
struct Picture {
    name: &'static str,
    job: &'static str,
    /// Pixels.
    size: [f32; 2],
    paper: Theme,
    /// What the hand does first.
    asks: Vec<Ask>,
    /// Whether the leads are laid.
    laid: bool,
    /// Whether the least cut is looked for and taken.
    cut: bool,
    /// Pixels for one point.
    scale: f32,
    /// Corners (across, depth, up) between which the hand measures from the side, mm.
    measured: Option<[[f64; 3]; 2]>,
}

const SMALL: [f32; 2] = [1280.0, 800.0];
const LARGE: [f32; 2] = [1920.0, 1080.0];

/// A lead of the demo brought to another exit.
fn bring(lead: &str, exit: &str) -> Ask {
    let library = profiles::Library::embedded();
    let job = profiles::open_job(profiles::DEMO, &library).map(|opened| opened.file);
    let leads = job.map(|job| job.leads).unwrap_or_default();
    let at = leads
        .iter()
        .position(|it| it.id == lead)
        .unwrap_or_default();
    let mut lead = leads[at].clone();
    lead.end.exit = Some(exit.to_owned());
    Ask::Edit(Edit::Lead(ListEdit::set(at, lead)), None)
}

fn pictures() -> Vec<Picture> {
    let plain = |name, job, size, paper| Picture {
        name,
        job,
        size,
        paper,
        asks: Vec::new(),
        laid: false,
        cut: false,
        scale: 1.0,
        measured: None,
    };
    let laid = |name, size, paper, asks| Picture {
        asks,
        laid: true,
        ..plain(name, "demo", size, paper)
    };
    let lead = Target::Lead("L5".to_owned());
    let rib = Target::Obstacle("R1".to_owned());
    let mut all = vec![
        plain("demo-light", "demo", SMALL, Theme::Light),
        plain("demo-dark", "demo", SMALL, Theme::Dark),
        plain("demo-large-light", "demo", LARGE, Theme::Light),
        plain("demo-large-dark", "demo", LARGE, Theme::Dark),
        Picture {
            asks: vec![Ask::Choose(lead.clone()), Ask::CutThrough(lead)],
            ..plain("demo-lead", "demo", SMALL, Theme::Light)
        },
        Picture {
            asks: vec![Ask::Choose(rib)],
            ..plain("demo-rib", "demo", LARGE, Theme::Light)
        },
        Picture {
            asks: vec![Ask::Alone(Some(View::FromSide))],
            ..plain("demo-side", "demo", SMALL, Theme::Dark)
        },
    ];
    let loom = |name, size, paper| Picture {
        asks: vec![Ask::Loom("left".to_owned())],
        ..plain(name, "demo", size, paper)
    };
    let by_one_exit = ["L1", "L2", "L5"].map(|lead| bring(lead, "up_left"));
    all.extend([
        loom("loom-light", SMALL, Theme::Light),
        loom("loom-dark", SMALL, Theme::Dark),
        loom("loom-large-light", LARGE, Theme::Light),
        loom("loom-large-dark", LARGE, Theme::Dark),
        Picture {
            asks: [&by_one_exit[..], &[Ask::Loom("up_left".to_owned())]].concat(),
            ..plain("loom-too-thick", "demo", SMALL, Theme::Light)
        },
    ]);
    let turned = || vec![Ask::Turned(TurnedShown::Alone)];
    let video = Target::Lead("L5".to_owned());
    all.extend([
        laid("turned-light", SMALL, Theme::Light, turned()),
        laid("turned-dark", SMALL, Theme::Dark, turned()),
        laid("turned-large-light", LARGE, Theme::Light, turned()),
        laid("turned-large-dark", LARGE, Theme::Dark, turned()),
        laid("laid-light", SMALL, Theme::Light, Vec::new()),
        laid(
            "laid-both",
            SMALL,
            Theme::Dark,
            vec![
                Ask::Turned(TurnedShown::Beside),
                Ask::Edit(Edit::ProudLimit(Some(4.0)), None),
            ],
        ),
        laid("laid-large-light", LARGE, Theme::Light, Vec::new()),
        laid("laid-large-dark", LARGE, Theme::Dark, Vec::new()),
        laid(
            "laid-lead",
            LARGE,
            Theme::Light,
            vec![Ask::Choose(video.clone()), Ask::CutThrough(video)],
        ),
    ]);
    all.extend(trimmed());
    all.extend(entered());
    let rib = Target::Obstacle("R1".to_owned());
    let alone = |view| vec![Ask::Alone(Some(view))];
    all.extend([
        Picture {
            asks: alone(View::LookingIn),
            ..plain("view-looking-in", "demo", SMALL, Theme::Light)
        },
        Picture {
            asks: alone(View::FromAbove),
            ..plain("view-from-above", "demo", SMALL, Theme::Dark)
        },
        Picture {
            asks: vec![
                Ask::Choose(rib.clone()),
                Ask::Drawing(DrawingAsk::Layer(Layer::Clears, true)),
                Ask::Drawing(DrawingAsk::Measure(true)),
            ],
            measured: Some([[0.0, 162.0, -63.5], [0.0, 212.0, -12.0]]),
            ..plain("by-hand", "demo", LARGE, Theme::Light)
        },
        Picture {
            asks: vec![Ask::Choose(Target::Walls)],
            ..plain("by-hand-walls", "demo", LARGE, Theme::Dark)
        },
        Picture {
            scale: 1.5,
            ..plain("scaled-light", "demo", SMALL, Theme::Light)
        },
        Picture {
            scale: 1.5,
            ..laid("scaled-large-dark", LARGE, Theme::Dark, Vec::new())
        },
        Picture {
            scale: 1.5,
            asks: [alone(View::FromAbove), vec![Ask::Choose(rib)]].concat(),
            ..plain("scaled-from-above", "demo", LARGE, Theme::Light)
        },
    ]);
    for (name, _) in profiles::embedded_jobs()
        .into_iter()
        .filter(|(name, _)| *name != profiles::DEMO)
    {
        all.push(plain(name, name, SMALL, Theme::Light));
    }
    all
}

/// The demo with its data module moved away, and what is then to be cut.
fn trimmed() -> Vec<Picture> {
    let library = profiles::Library::embedded();
    let job = profiles::open_job(profiles::DEMO, &library).map(|opened| opened.file);
    let modules = job.map(|job| job.modules).unwrap_or_default();
    let at = (modules.iter().position(|it| it.id == "M1")).unwrap_or_default();
    let mut module = modules[at].clone();
    module.pinned = None;
    module.may_go_to = vec!["GB1".to_owned()];
    let away = Ask::Edit(Edit::Module(ListEdit::set(at, module)), None);
    let picture = |name, size, paper| Picture {
        name,
        job: "demo",
        size,
        paper,
        asks: vec![away.clone(), Ask::Step(Some(Step::Trim))],
        laid: true,
        cut: true,
        scale: 1.0,
        measured: None,
    };
    vec![
        picture("trim-light", SMALL, Theme::Light),
        picture("trim-dark", SMALL, Theme::Dark),
        picture("trim-large-light", LARGE, Theme::Light),
    ]
}

/// A new job as it is entered: eight figures, a row for each socket, one by one.
fn entered() -> Vec<Picture> {
    let library = profiles::Library::embedded();
    let figures = ["182", "104", "222", "165", "0", "32", "5.5"];
    let [width, height, behind, chassis, setback, plug, cable] =
        figures.map(|text| profiles::Length::parse(text).expect("a length"));
    let quick = profiles::QuickFigures {
        width,
        height,
        behind,
        chassis,
        setback,
        plug,
        cable,
        bend: profiles::QuickFigures::USUAL_BEND,
    };
    let edit = Edit::Everything(Box::new(quick.new_job(&library)));
    let begun = [Ask::BeginEmpty, Ask::Edit(edit, None)];
    let then = |asks: &[Ask]| [&begun[..], asks].concat();
    let picture = |name, size, paper, asks| Picture {
        name,
        job: "demo",
        size,
        paper,
        asks,
        laid: false,
        cut: false,
        scale: 1.0,
        measured: None,
    };
    vec![
        picture("new-job", SMALL, Theme::Light, then(&[])),
        picture(
            "new-job-large-targets",
            SMALL,
            Theme::Dark,
            then(&[Ask::Large(true)]),
        ),
        picture(
            "behind-sockets",
            SMALL,
            Theme::Light,
            then(&[Ask::BehindSockets]),
        ),
        picture("one-by-one", SMALL, Theme::Light, then(&[Ask::Guide(true)])),
        picture("walk", LARGE, Theme::Light, vec![Ask::Walk(true)]),
    ]
}

/// Measures from corner to corner in the view from the side, and leaves off.
fn measure(harness: &mut Harness<'static, Desk>, ends: [[f64; 3]; 2]) {
    let view = View::FromSide;
    let pane = harness
        .get_by_label_contains("From the side, cut at")
        .rect();
    let middle = DVec2::new(pane.center().x.into(), pane.center().y.into());
    for end in ends {
        let camera = harness.state().canvas().camera;
        let at = camera.to_screen(view, middle, view.flat(DVec3::from(end)));
        let at = egui::pos2(at.x as f32, at.y as f32);
        harness.hover_at(at);
        harness.run();
        harness.drag_at(at);
        harness.drop_at(at);
        harness.run();
    }
    harness.key_press(egui::Key::Escape);
    harness.run();
}

/// Writes a picture without transparency, pressed as small as it goes.
fn write_small(
    picture: &image::RgbaImage,
    path: &std::path::Path,
) -> Result<(), Box<dyn std::error::Error>> {
    let file = std::io::BufWriter::new(std::fs::File::create(path)?);
    let encoder = PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::NoFilter);
    image::DynamicImage::ImageRgba8(picture.clone())
        .to_rgb8()
        .write_with_encoder(encoder)?;
    Ok(())
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args_os().nth(1).map_or_else(
        || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../screenshots")),
        PathBuf::from,
    );
    std::fs::create_dir_all(&folder)?;
    let only = std::env::args().nth(2);
    let wanted = |name: &str| {
        only.as_ref()
            .is_none_or(|only| name.starts_with(only.as_str()))
    };
    let mut laid = BTreeMap::new();
    for picture in pictures().into_iter().filter(|it| wanted(it.name)) {
        let paper = match picture.paper {
            Theme::Light => PaperChoice::Light,
            Theme::Dark => PaperChoice::Dark,
        };
        let settings = Settings {
            paper,
            ..Settings::default()
        };
        let start = window::start(picture.job, settings);
        let (mut harness, rasteriser) =
            window::scaled(start, picture.size, picture.scale, picture.paper);
        let ctx = harness.ctx.clone();
        if picture.laid {
            match laid.get(picture.job) {
                Some(known) => harness.state_mut().lay_as(&ctx, Arc::clone(known)),
                None => harness.state_mut().lay_here(&ctx),
            }
            let found = harness.state().laying().answer().cloned();
            laid.extend(found.map(|found| (picture.job, found)));
        }
        for ask in picture.asks {
            harness.state_mut().ask(&ctx, ask);
        }
        if picture.cut {
            window::cut_flush(&mut harness);
        }
        harness.run();
        if let Some(ends) = picture.measured {
            measure(&mut harness, ends);
        }
        let path = folder.join(picture.name).with_extension("png");
        write_small(&window::picture(&harness, &rasteriser), &path)?;
        println!("{}", path.display());
    }
    Ok(())
}
