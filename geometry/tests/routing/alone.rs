//! One lead at a time, where a way is known to exist.

use geometry::routing::{Effort, route_one, verify};

use crate::random_cavities::around_answer;

#[test]
fn a_lead_alone_finds_its_way() {
    let (mut routed, mut asked, mut longer) = (0, 0, 0);
    for seed in 0..25 {
        let (cavity, hidden) = around_answer(seed, 10, 16);
        for (lead, known) in hidden.iter().enumerate() {
            let (around, task) = cavity.alone(lead);
            asked += 1;
            match route_one(&around, &task, &Effort::default()) {
                Ok(path) => {
                    routed += 1;
                    longer += usize::from(path.length() > 1.02 * known.length());
                    assert_eq!(verify(&around, &[task], &[Some(path)]), []);
                }
                Err(why) => println!("scene {seed}, lead {lead}: {why:?}"),
            }
        }
    }
    assert!(routed * 100 >= asked * 98, "{routed} of {asked}");
    // The known ways wander: hardly any should be bettered by none of ours.
    assert!(
        longer * 20 <= asked,
        "{longer} of {asked} longer than the known way"
    );
}
