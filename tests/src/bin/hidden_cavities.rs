//! The hidden cavities in figures: `cargo run -p acceptance --bin hidden_cavities`.
use acceptance::hidden::{answer_json_of, hidden_job};
use acceptance::referee::judge;
use seatwell::answer::PlainJob;

fn main() {
    for seed in 0..6 {
        let t = std::time::Instant::now();
        let hidden = hidden_job(seed);
        let made = t.elapsed();
        let plain = serde_json::to_value(PlainJob::of(&hidden.job)).unwrap();
        let t = std::time::Instant::now();
        let violations = judge(&plain, &answer_json_of(&hidden.answer));
        println!("{seed} {made:?} {:?} {:?}", t.elapsed(), hidden.stats);
        for v in violations {
            println!("   {v:?}");
        }
    }
}
