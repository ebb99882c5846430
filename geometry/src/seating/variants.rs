//! The same scene with its cables laid otherwise in the exits: where one finds
//! no way for everything another may.

use std::cell::OnceCell;

use super::scene::Scene;

/// How many there are.
pub const VARIANTS: usize = 4;

/// Scenes that are made when they are first asked for.
pub struct Variants<'a> {
    made: [OnceCell<Scene<'a>>; VARIANTS],
    make: Box<dyn Fn(usize) -> Scene<'a> + 'a>,
}

impl<'a> Variants<'a> {
    /// * `make`: makes the scene of a number below [`VARIANTS`]
    pub fn new(make: impl Fn(usize) -> Scene<'a> + 'a) -> Variants<'a> {
        Variants {
            made: Default::default(),
            make: Box::new(make),
        }
    }

    /// The scene of a number below [`VARIANTS`].
    pub fn scene(&self, number: usize) -> &Scene<'a> {
        self.made[number].get_or_init(|| (self.make)(number))
    }
}
