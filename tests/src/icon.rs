//! The program's picture, drawn by code: a side section of a unit in its
//! opening, a plug behind it, the bend of its cable, and the rib that the
//! bend has to clear.
//!
//! One list of shapes makes both the SVG and the PNG files.

use std::fmt::Write;

use image::{Rgba, RgbaImage};

/// The drawing is a square of this side.
const SIDE: f64 = 64.0;

/// Samples of a pixel along each side.
const SAMPLES: u32 = 8;

type Point = (f64, f64);
type Tone = [u8; 3];

// The tones of the window's light paper.
const SHEET: Tone = [0xfb, 0xf9, 0xf3];
const INK: Tone = [0x20, 0x22, 0x25];
const UNIT: Tone = [0x00, 0x72, 0xb2];
const CABLE: Tone = [0x56, 0xb4, 0xe9];
const RIB: Tone = [0x00, 0x9e, 0x73];

/// One shape.
enum Shape {
    /// A filled outline.
    Face(Vec<Point>, Tone),
    /// A line of some width with round ends and corners.
    Line(Vec<Point>, f64, Tone),
}

fn block(left: f64, top: f64, right: f64, bottom: f64) -> Vec<Point> {
    vec![(left, top), (right, top), (right, bottom), (left, bottom)]
}

fn edge(mut corners: Vec<Point>, width: f64) -> Shape {
    corners.push(corners[0]);
    Shape::Line(corners, width, INK)
}

/// A quarter of a circle, from straight up to straight right of its centre.
fn quarter(centre: Point, radius: f64) -> Vec<Point> {
    (0..=24)
        .map(|step| {
            let turn = f64::from(step) / 24.0 * std::f64::consts::FRAC_PI_2;
            (
                centre.0 + radius * turn.sin(),
                centre.1 - radius * turn.cos(),
            )
        })
        .collect()
}

/// From the back of the drawing to its front.
fn shapes() -> Vec<Shape> {
    let mut all = vec![Shape::Face(block(0.0, 0.0, SIDE, SIDE), SHEET)];
    // The dash, cut, above and below the opening.
    for (top, bottom) in [(3.0, 14.0), (44.0, 61.0)] {
        all.push(Shape::Face(block(9.0, top, 15.0, bottom), INK));
    }
    // The cable: out of the plug, round its bend, down.
    let mut cable = vec![(42.0, 29.0), (44.0, 29.0)];
    cable.extend(quarter((44.0, 39.0), 10.0));
    cable.push((54.0, 61.0));
    all.push(Shape::Line(cable.clone(), 7.0, INK));
    // The rib behind, with its hatch, stands where the bend just clears it.
    let rib = block(50.0, 3.0, 57.0, 19.0);
    all.push(Shape::Face(rib.clone(), RIB));
    for at in [0.0, 5.0, 10.0] {
        let ends = vec![(50.5, 9.0 + at), (56.5, 4.0 + at)];
        all.push(Shape::Line(ends, 1.2, INK));
    }
    all.push(edge(rib, 2.0));
    all.push(Shape::Line(cable, 3.6, CABLE));
    // The plug, the chassis, the nose in front of the dash.
    let plug = block(35.0, 24.0, 43.0, 34.0);
    all.push(Shape::Face(plug.clone(), SHEET));
    all.push(edge(plug, 2.0));
    let chassis = block(11.0, 17.0, 35.0, 41.0);
    all.push(Shape::Face(chassis.clone(), UNIT));
    all.push(edge(chassis, 2.0));
    let nose = block(5.0, 14.0, 11.0, 44.0);
    all.push(Shape::Face(nose.clone(), UNIT));
    all.push(edge(nose, 2.0));
    all.push(edge(block(1.0, 1.0, 63.0, 63.0), 1.6));
    all
}

fn hex(tone: Tone) -> String {
    format!("#{:02x}{:02x}{:02x}", tone[0], tone[1], tone[2])
}

fn path(points: &[Point]) -> String {
    points.iter().fold(String::new(), |mut text, (x, y)| {
        let gap = if text.is_empty() { "M" } else { " L" };
        // Writing to a text does not fail.
        let _ = write!(text, "{gap}{x:.2} {y:.2}");
        text
    })
}

/// The picture as SVG.
pub fn svg() -> String {
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {SIDE} {SIDE}\">\n  <title>Seatwell</title>\n"
    );
    for shape in shapes() {
        text += &match shape {
            Shape::Face(points, tone) => {
                format!(
                    "  <path d=\"{} Z\" fill=\"{}\"/>\n",
                    path(&points),
                    hex(tone)
                )
            }
            Shape::Line(points, width, tone) => format!(
                "  <path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{width}\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n",
                path(&points),
                hex(tone)
            ),
        };
    }
    text + "</svg>\n"
}

/// The picture in pixels.
pub fn png(side: u32) -> RgbaImage {
    let shapes = shapes();
    RgbaImage::from_fn(side, side, |x, y| {
        let mut sum = [0_u32; 3];
        for sample in 0..SAMPLES * SAMPLES {
            let at = |pixel: u32, part: u32| {
                let part = (f64::from(part) + 0.5) / f64::from(SAMPLES);
                (f64::from(pixel) + part) * SIDE / f64::from(side)
            };
            let point = (at(x, sample % SAMPLES), at(y, sample / SAMPLES));
            let seen = shapes.iter().rev().find_map(|shape| tone_at(shape, point));
            let tone = seen.unwrap_or(SHEET);
            for channel in 0..3 {
                sum[channel] += u32::from(tone[channel]);
            }
        }
        let count = SAMPLES * SAMPLES;
        let [red, green, blue] = sum.map(|sum| ((sum + count / 2) / count) as u8);
        Rgba([red, green, blue, 255])
    })
}

fn tone_at(shape: &Shape, point: Point) -> Option<Tone> {
    match shape {
        Shape::Face(corners, tone) => is_inside(corners, point).then_some(*tone),
        Shape::Line(points, width, tone) => points
            .windows(2)
            .any(|ends| distance(ends[0], ends[1], point) <= 0.5 * width)
            .then_some(*tone),
    }
}

/// Whether a ray to the right crosses the outline an odd number of times.
fn is_inside(corners: &[Point], (x, y): Point) -> bool {
    let mut inside = false;
    for (i, &(ax, ay)) in corners.iter().enumerate() {
        let (bx, by) = corners[(i + 1) % corners.len()];
        if (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax) {
            inside = !inside;
        }
    }
    inside
}

/// From a stretch between two points.
fn distance((ax, ay): Point, (bx, by): Point, (x, y): Point) -> f64 {
    let (dx, dy) = (bx - ax, by - ay);
    let along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
    let along = along.clamp(0.0, 1.0);
    (x - ax - along * dx).hypot(y - ay - along * dy)
}
