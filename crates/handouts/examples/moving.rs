//! Writes a page with every trial movement, still, moving by itself and drawn by the script:
//! `cargo run -p handouts --example moving -- OUT.html [grey|dark]`.

#[allow(dead_code)]
#[path = "../../motion/tests/trials/movements.rs"]
mod movements;

use handouts::figure::{Build, MOST_FRAMES, SCRIPT, blueprint, drawn, numbers, turning};
use handouts::look;
use motion::body::Body;
use motion::cycle::Cycle;
use motion::reel::{Reel, Views};
use motion::scene::Holding;

fn main() {
    let out = std::env::args().nth(1).expect("give the file to write");
    let room = match std::env::args().nth(2).as_deref() {
        Some("grey") => "data-ink=\"grey\"",
        Some("dark") => "data-room=\"dark\"",
        _ => "",
    };
    let mut body = String::new();
    for (place, trial) in movements::all().iter().enumerate() {
        let build = Build::ALL[place % Build::ALL.len()];
        let person = Body::of_stature_m(build.stature_m()).expect("an adult");
        let cycle = Cycle::of(&person.drawn(), &trial.movement).expect("it can be made");
        let views = Views::of(&cycle).expect("every limb reaches");
        for camera in [Some(views.main), views.second].into_iter().flatten() {
            let reel = Reel::of(&cycle, &camera, &build.look(), MOST_FRAMES);
            let still = drawn(&reel.expect("every limb reaches"), build, trial.name).svg;
            let id = format!("m{place}-");
            let moving = turning(&cycle, &camera, build, [&id, trial.name]);
            let moving = moving.expect("every limb reaches");
            let data = numbers(&cycle, &camera, build).expect("every limb reaches");
            println!(
                "{}: still {} bytes, moving {}, numbers {}",
                trial.name,
                still.len(),
                moving.len(),
                data.len()
            );
            let person = blueprint(build, &Holding::NOTHING);
            body += &format!(
                "<figure>{still}</figure><figure>{moving}</figure><figure><svg class=\"{} by-script\"></svg><script>all.push([{data},{person}])</script><figcaption>{}</figcaption></figure>",
                build.class(),
                trial.name
            );
        }
    }
    let page = format!(
        "<!doctype html><html lang=en-GB {room}><meta charset=utf-8><title>Moving figures</title><style>{}{}{}body{{background:var(--paper);margin:10px;font:13px/18px var(--face);color:var(--ink);display:flex;flex-wrap:wrap}}figure{{margin:4px;width:300px}}figure svg{{width:296px;height:390px}}</style><script>const all=[]</script>{body}<script type=module>{SCRIPT}
const shown=[...document.querySelectorAll('.by-script')].map((svg,i)=>[figureIn(svg,...all[i]),all[i][0].p]);
const draw=(now)=>{{shown.forEach(([at,period])=>at((now%period)/period));requestAnimationFrame(draw)}};
draw(600);</script></html>",
        look::faces(),
        look::TOKENS,
        look::DRAWINGS
    );
    std::fs::write(out, page).expect("the file can be written");
}
