//! The judge of routed answers, judged: a known good answer passes, and every
//! kind of fault planted in it is found.

mod bench;
mod embedded;
mod planted;
