//! Where the keyboard is: a ring around whatever a key would act on.

use egui::{Context, Id, LayerId, Order, Stroke, StrokeKind};

use super::theme::Paper;

/// Draws the ring, over everything.
pub fn ring(ctx: &Context) {
    let Some(response) = ctx
        .memory(|memory| memory.focused())
        .and_then(|id| ctx.read_response(id))
    else {
        return;
    };
    // What is scrolled out of sight has no ring.
    let seen = response.interact_rect;
    if !seen.is_positive() {
        return;
    }
    let paper = Paper::current(ctx);
    let painter = ctx.layer_painter(LayerId::new(Order::Tooltip, Id::unique("focus")));
    let stroke = Stroke::new(2.0, paper.lit);
    painter.rect_stroke(seen.expand(1.0), 3.0, stroke, StrokeKind::Outside);
}
