//! What a frame's panels asked for, carried out.

use crate::desk::actions::{Action, Now};
use crate::desk::card::sockets;
use crate::desk::edit::{Ask, Step, Target};
use crate::desk::entering;
use crate::desk::fields;
use crate::desk::files::Purpose;
use crate::desk::settings::Settings;
use crate::desk::top::After;
use crate::desk::window::Desk;
use crate::desk::{lines, menus};

impl Desk {
    /// Carries out everything asked for, in order.
    pub(super) fn carry_out(&mut self, ctx: &egui::Context, asks: Vec<Ask>) {
        let before = (self.document.revision(), self.settings.figures);
        let mut pointed = None;
        let mut settled = false;
        for ask in asks {
            match ask {
                Ask::Edit(edit, gesture) => self.document.apply(edit, gesture),
                Ask::Settle => settled = true,
                Ask::Undo => {
                    fields::forget_drafts(ctx);
                    self.document.undo();
                }
                Ask::Redo => {
                    fields::forget_drafts(ctx);
                    self.document.redo();
                }
                Ask::Point(target) => pointed = Some(target),
                Ask::Choose(target) => self.choose(target),
                Ask::Loom(exit) => {
                    self.choose(Target::Exit(exit.clone()));
                    self.view.step = Some(Step::Looms);
                    self.view.loom.show(exit);
                }
                Ask::Mark(lead) => self.view.loom.mark(lead),
                Ask::Step(step) => {
                    self.view.quick.open = false;
                    self.leave_guide();
                    self.view.step = step;
                    self.view.chosen = None;
                    self.view.fresh = true;
                }
                Ask::Quick(open) => {
                    self.leave_guide();
                    self.view.quick.open = open;
                    self.view.quick.fresh = open;
                }
                Ask::Guide(open) => {
                    self.view.quick.open = false;
                    self.view.guide.show(open, self.document.job());
                }
                Ask::Walk(shown) => self.view.canvas.walk = shown,
                Ask::BehindSockets => self.behind_sockets(ctx),
                Ask::CutAt(view, at) => self.view.canvas.cuts[view as usize] = at,
                Ask::CutThrough(target) => self.view.canvas.cut_through(&self.model, &target),
                Ask::Drawing(ask) => self.view.canvas.carry_out(ask),
                Ask::ShowAll => self.view.canvas.show_all(),
                Ask::Alone(view) => self.view.canvas.show_alone(view),
                Ask::Turned(shown) => self.view.canvas.show_turned(shown),
                Ask::SeeThrough(kinds, through) => {
                    self.view.canvas.turned.see_through(kinds, through);
                }
                Ask::Lay(lay) => {
                    self.settings.lay = lay;
                    self.refresh();
                }
                Ask::LookForCuts => {
                    if let Some(job) = &self.model.job {
                        self.cutting.look(ctx, job);
                    }
                }
                Ask::StopLookingForCuts => self.cutting.stop(),
                Ask::Rib(rib) => self.view.rib = Some(rib),
                Ask::StopLaying => self.laying.stop(),
                Ask::GoOnLaying => self.laying.go_on(),
                Ask::Show(figures) => self.settings.figures = figures,
                Ask::Paper(paper) => self.set(
                    ctx,
                    Settings {
                        paper,
                        ..self.settings
                    },
                ),
                Ask::Large(large) => self.set(
                    ctx,
                    Settings {
                        large,
                        ..self.settings
                    },
                ),
                Ask::Scale(scale) => self.set(
                    ctx,
                    Settings {
                        scale,
                        ..self.settings
                    },
                ),
                Ask::GoTo(done) => {
                    fields::forget_drafts(ctx);
                    self.document.go_to(done);
                }
                Ask::OpenPath(path) => self.guarded(ctx, After::OpenPath(path)),
                Ask::ReadAgain => self.read_again(ctx),
                Ask::Menu(menu) => menus::open(ctx, menu),
                Ask::ToLine => lines::want(ctx),
                Ask::Quit => self.guarded(ctx, After::Close),
                Ask::Open => self.guarded(ctx, After::Open),
                Ask::Begin(name) => self.guarded(ctx, After::Begin(name)),
                Ask::BeginEmpty => self.guarded(ctx, After::BeginEmpty),
                Ask::Save => self.save(ctx),
                Ask::SaveAs => self.ask_path(ctx, Purpose::SaveAs),
            }
        }
        // A slow frame may bring the last figure and the Enter after it together.
        if settled {
            self.document.settle();
        }
        if self.view.pointed != pointed {
            self.view.pointed = pointed;
            ctx.request_repaint();
        }
        if before != (self.document.revision(), self.settings.figures) {
            self.refresh();
            ctx.request_repaint();
        }
    }

    /// Carries out what keys asked for, each as the one before has left things.
    /// What is pointed at stays so.
    pub(super) fn carry_out_keys(&mut self, ctx: &egui::Context, pressed: &[Action]) {
        for action in pressed {
            let mut asks = action.asks(&Now {
                document: &self.document,
                settings: &self.settings,
                doing: self.doing(),
            });
            asks.extend(self.view.pointed.clone().map(Ask::Point));
            self.carry_out(ctx, asks);
        }
    }

    /// Opens the cavity at its rows of sockets, the hand in the first.
    fn behind_sockets(&mut self, ctx: &egui::Context) {
        self.view.quick.open = false;
        self.leave_guide();
        self.view.step = Some(Step::Cavity);
        self.view.chosen = None;
        self.view.open_sockets = true;
        if let Some(label) = sockets::first_label(self.model.job.as_ref()) {
            entering::focus_on(ctx, &label);
        }
    }

    fn leave_guide(&mut self) {
        self.view.guide.show(false, self.document.job());
    }

    fn choose(&mut self, target: Target) {
        self.view.quick.open = false;
        self.leave_guide();
        self.view.step = Some(target.step());
        self.view.fresh = self.view.chosen.as_ref() != Some(&target);
        self.view.chosen = Some(target);
    }

    fn set(&mut self, ctx: &egui::Context, settings: Settings) {
        self.settings = settings;
        settings.apply(ctx);
    }
}
