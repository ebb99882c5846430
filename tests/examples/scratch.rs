fn main() {
    let name = std::env::args().nth(1).unwrap_or("demo".into());
    let alt = std::env::args().nth(2);
    let opened = profiles::open_job(&name, &profiles::Library::embedded()).unwrap();
    let job = match alt {
        Some(a) => opened
            .alternatives
            .iter()
            .find(|x| x.id == a)
            .unwrap()
            .job
            .clone(),
        None => opened.job.clone(),
    };
    let t = std::time::Instant::now();
    let fit = geometry::fit(&job);
    let routed = geometry::routed_on(&job, &fit, 2.0, &mut |l| {
        eprintln!("{:?} {:?}", l, t.elapsed());
        l.tried < 12
    });
    println!("time {:?}", t.elapsed());
    println!(
        "chain {:?} routed {:?} {:?} {:?} lower {}",
        fit.proud, routed.proud, routed.verdict, routed.proof, routed.lower_bound
    );
    for r in &routed.routes {
        println!(
            "{} {} len {:.1} rmin {:?} rule {} near {:?} slack {:?} pieces {}",
            r.lead,
            r.name,
            r.length,
            r.least_radius,
            r.rule_radius,
            r.nearest.as_ref().map(|n| (n.name.clone(), n.gap, n.spare)),
            r.slack,
            r.path.pieces.len()
        );
    }
    for s in &routed.stopped_by {
        println!(
            "stop {} {} vs {} short {}",
            s.piece, s.part, s.against, s.short
        );
    }
    for s in &routed.left_over {
        println!("left {} {}", s.name, s.why);
    }
}
