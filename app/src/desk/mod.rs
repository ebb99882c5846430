//! The window: a technical drawing one can work on.
//!
//! Four kinds of state are kept apart:
//!
//! * the document ([`document`]): the job as written, and its history
//! * the result ([`model`]): what the job comes to, gathered once for each revision
//! * the view: where the eye is ([`canvas::CanvasState`]), what is pointed at and chosen
//! * the desk ([`window::Desk`]): what is being asked for, settings
//!
//! What can be asked for stands in one table ([`actions`]); an unsaved job is
//! kept on the disk by a thread ([`keeping`]).
//!
//! A panel takes the model and says what it asks for ([`edit::Ask`]); one place
//! in [`window`] carries it out.

pub mod actions;
mod bench;
pub mod canvas;
mod card;
mod chain_bar;
pub mod cutting;
pub mod document;
pub mod edit;
mod entering;
mod fields;
pub mod files;
mod focus;
pub mod guide;
pub mod history;
pub mod keeping;
pub mod laying;
mod lines;
mod loom;
pub mod loom_edit;
mod menus;
pub mod model;
pub mod pin_edit;
pub mod preferences;
mod quick;
mod settings;
mod start;
pub mod theme;
mod top;
mod verdict;
mod watch;
pub mod window;

pub use settings::{SCALES, Settings};
pub use start::{Own, Start, run};
pub use window::Desk;
