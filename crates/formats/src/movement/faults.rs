//! What is wrong with a movement when bodies of its statures do it.

use super::Figure;
use motion::body::Body;
use motion::cycle::Cycle;
use motion::joint::Ranges;
use motion::judge::{Marks, judge_marked};

/// How near the edge of what bears it the centre of mass may come.
const LEAST_MARGIN_M: f64 = 0.005;

/// Every fault of a movement in bodies as they are drawn, of its least, middle and greatest stature; empty for one that can be done.
pub fn faults(figure: &Figure, marks: &Marks) -> Vec<String> {
    let (low_m, high_m) = figure.statures_m;
    let mut found = Vec::new();
    for stature_m in [low_m, (low_m + high_m) / 2.0, high_m] {
        match Body::of_stature_m(stature_m) {
            Err(why) => found.push(why.to_string()),
            Ok(body) => {
                let said = faults_of(figure, &body.drawn(), marks).into_iter();
                found.extend(said.map(|fault| format!("at {stature_m:.2} m, {fault}")));
            }
        }
    }
    found
}

fn faults_of(figure: &Figure, body: &Body, marks: &Marks) -> Vec<String> {
    let cycle = match Cycle::of(body, &figure.movement) {
        Ok(cycle) => cycle,
        Err(why) => return vec![why.to_string()],
    };
    let judgement = match judge_marked(&cycle, &Ranges::norm(), marks) {
        Ok(judgement) => judgement,
        Err(why) => return vec![why.to_string()],
    };
    let mut found: Vec<String> = judgement
        .faults
        .iter()
        .map(|fault| fault.to_string())
        .collect();
    if judgement.least_margin_m < LEAST_MARGIN_M {
        found.push(format!(
            "the centre of mass comes within {:.0} mm of the edge of what bears the body; shift the weight or hold on",
            judgement.least_margin_m * 1000.0
        ));
    }
    found
}
