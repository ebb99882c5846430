//! Pictures of the window without display or graphics card: triangles filled by the processor.
//!
//! The window's own meshes are drawn, blended as egui asks for (premultiplied,
//! in gamma space), so that the same frame always gives the same bytes.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use egui::epaint::{Primitive, Vertex};
use egui::{
    Color32, ColorImage, FullOutput, ImageData, Mesh, Pos2, Rect, TextureId, TexturesDelta,
};
use egui_kittest::TestRenderer;

/// Keeps the textures of a harness and turns its last frame into a picture.
#[derive(Clone, Default)]
pub struct Rasteriser {
    textures: Rc<RefCell<BTreeMap<TextureId, ColorImage>>>,
}

impl TestRenderer for Rasteriser {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        let mut textures = self.textures.borrow_mut();
        for (id, patches) in delta.set.drain() {
            for patch in patches {
                let ImageData::Color(image) = &patch.image;
                match (patch.pos, textures.get_mut(&id)) {
                    (Some([left, top]), Some(texture)) => {
                        for row in 0..image.size[1] {
                            let from = row * image.size[0];
                            let to = (top + row) * texture.size[0] + left;
                            texture.pixels[to..to + image.size[0]]
                                .copy_from_slice(&image.pixels[from..from + image.size[0]]);
                        }
                    }
                    _ => {
                        textures.insert(id, ColorImage::clone(image));
                    }
                }
            }
        }
        for id in delta.free.drain() {
            textures.remove(&id);
        }
    }
}

impl Rasteriser {
    /// The picture of a frame.
    ///
    /// * `size`: in pixels
    pub fn picture(
        &self,
        ctx: &egui::Context,
        output: &FullOutput,
        size: [u32; 2],
    ) -> image::RgbaImage {
        let per_point = output.pixels_per_point;
        let mut picture =
            image::RgbaImage::from_pixel(size[0], size[1], image::Rgba([0, 0, 0, 255]));
        let textures = self.textures.borrow();
        for clipped in ctx.tessellate(output.shapes.clone(), per_point) {
            let Primitive::Mesh(mesh) = clipped.primitive else {
                continue;
            };
            if let Some(texture) = textures.get(&mesh.texture_id) {
                draw(&mut picture, &mesh, texture, clipped.clip_rect, per_point);
            }
        }
        picture
    }
}

fn draw(
    picture: &mut image::RgbaImage,
    mesh: &Mesh,
    texture: &ColorImage,
    clip: Rect,
    per_point: f32,
) {
    for corners in mesh.indices.chunks_exact(3) {
        let [a, b, c] = [0, 1, 2].map(|i| mesh.vertices[corners[i] as usize]);
        triangle(picture, [a, b, c], texture, clip, per_point);
    }
}

fn triangle(
    picture: &mut image::RgbaImage,
    corners: [Vertex; 3],
    texture: &ColorImage,
    clip: Rect,
    per_point: f32,
) {
    let [a, b, c] = corners.map(|corner| corner.pos * per_point);
    let area = edge(a, b, c);
    if area == 0.0 {
        return;
    }
    let low = a.min(b).min(c).max(clip.min * per_point);
    let high = a.max(b).max(c).min(clip.max * per_point);
    let columns =
        (low.x.floor().max(0.0) as u32)..(high.x.ceil().max(0.0) as u32).min(picture.width());
    let rows =
        (low.y.floor().max(0.0) as u32)..(high.y.ceil().max(0.0) as u32).min(picture.height());
    for y in rows {
        for x in columns.clone() {
            let point = Pos2::new(x as f32 + 0.5, y as f32 + 0.5);
            let in_clip = (clip * per_point).contains(point);
            let weights =
                [edge(b, c, point), edge(c, a, point), edge(a, b, point)].map(|w| w / area);
            // A point on a shared side belongs to the triangle on one side of it only.
            let inside =
                (0..3).all(|i| weights[i] > 0.0 || (weights[i] == 0.0 && owns(corners, i, area)));
            if inside && in_clip {
                blend(
                    picture.get_pixel_mut(x, y),
                    shade(corners, weights, texture),
                );
            }
        }
    }
}

/// Twice the signed area of a triangle.
fn edge(a: Pos2, b: Pos2, point: Pos2) -> f32 {
    (b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x)
}

/// Whether the side opposite corner `i` is a left or top one.
fn owns(corners: [Vertex; 3], i: usize, area: f32) -> bool {
    let (from, to) = (corners[(i + 1) % 3].pos, corners[(i + 2) % 3].pos);
    let way = (to - from) * area.signum();
    way.y < 0.0 || (way.y == 0.0 && way.x > 0.0)
}

fn shade(corners: [Vertex; 3], weights: [f32; 3], texture: &ColorImage) -> [f32; 4] {
    let sum = |of: &dyn Fn(&Vertex) -> f32| -> f32 {
        corners
            .iter()
            .zip(weights)
            .map(|(corner, weight)| of(corner) * weight)
            .sum()
    };
    let sampled = sample(texture, sum(&|v| v.uv.x), sum(&|v| v.uv.y));
    std::array::from_fn(|i| sum(&|v| f32::from(v.color.to_array()[i])) * sampled[i] / 255.0)
}

/// The texture between its pixels.
fn sample(texture: &ColorImage, u: f32, v: f32) -> [f32; 4] {
    let [width, height] = texture.size;
    let (x, y) = (u * width as f32 - 0.5, v * height as f32 - 0.5);
    let at = |x: f32, y: f32| -> Color32 {
        let column = (x.max(0.0) as usize).min(width - 1);
        let row = (y.max(0.0) as usize).min(height - 1);
        texture.pixels[row * width + column]
    };
    let (left, top) = (x.floor(), y.floor());
    let (right_share, low_share) = (x - left, y - top);
    let four = [
        at(left, top),
        at(left + 1.0, top),
        at(left, top + 1.0),
        at(left + 1.0, top + 1.0),
    ];
    let shares = [
        (1.0 - right_share) * (1.0 - low_share),
        right_share * (1.0 - low_share),
        (1.0 - right_share) * low_share,
        right_share * low_share,
    ];
    std::array::from_fn(|i| {
        four.iter()
            .zip(shares)
            .map(|(c, share)| f32::from(c.to_array()[i]) * share)
            .sum()
    })
}

fn blend(pixel: &mut image::Rgba<u8>, colour: [f32; 4]) {
    let under = 1.0 - colour[3] / 255.0;
    for (channel, &over) in colour.iter().take(3).enumerate() {
        let value = over + f32::from(pixel.0[channel]) * under;
        pixel.0[channel] = value.round().clamp(0.0, 255.0) as u8;
    }
}
