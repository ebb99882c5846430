use acceptance::hidden::hidden_job;
fn main() {
    let half: u64 = std::env::args().nth(1).unwrap().parse().unwrap();
    for seed in (0..100u64).filter(|s| s % 2 == half) {
        let h = hidden_job(seed);
        println!("{seed} {}", h.stats.thrown_away);
    }
}
