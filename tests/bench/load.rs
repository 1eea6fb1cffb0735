//! The real program under load: how soon it answers after its start, and how fast pages come when many ask at once.

use std::net::TcpListener;
use std::process::{Child, Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};
use tests::http::{Answer, send};
use tests::tools::hearthpace;

/// Requests that wait for an answer at the same moment.
pub(crate) const AT_ONCE: usize = 50;
/// Requests of one measurement.
const REQUESTS: usize = 1_000;
/// Length of `/people/` and an id.
const CASE_ADDRESS: usize = 44;
/// How long a server may take to answer at all.
const GIVE_UP: Duration = Duration::from_secs(300);

/// A running program, ended when dropped.
pub(crate) struct Server {
    child: Child,
    port: u16,
    started: Instant,
}

impl Server {
    /// Starts the demonstration on any free port, its caseload so many times over.
    pub(crate) fn demo(times: u16) -> Server {
        let port = free_port();
        let started = Instant::now();
        let child = Command::new(hearthpace())
            .args(["demo", "--on", "2026-11-25", "--port", &port.to_string()])
            .args(["--times", &times.to_string()])
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .spawn()
            .expect("the program has just been built");
        Server {
            child,
            port,
            started,
        }
    }

    /// Asks again and again until a page comes; the time since the start.
    pub(crate) fn first_page(&self, path: &str) -> Duration {
        loop {
            if let Ok(answer) = self.get(path) {
                assert_eq!(answer.status, 200, "{}", answer.text());
                return self.started.elapsed();
            }
            assert!(
                self.started.elapsed() < GIVE_UP,
                "the program never answered"
            );
            std::thread::sleep(Duration::from_millis(1));
        }
    }

    fn get(&self, path: &str) -> std::io::Result<Answer> {
        send(self.port, "GET", path, &[], b"")
    }

    /// The addresses of everybody's case page.
    pub(crate) fn case_pages(&self) -> Vec<String> {
        let people = self.get("/people").expect("the program answers").text();
        let links = people.split("href=\"").skip(1);
        let mut pages: Vec<String> = links
            .filter_map(|rest| rest.split('"').next())
            .filter(|address| address.starts_with("/people/") && address.len() == CASE_ADDRESS)
            .map(str::to_owned)
            .collect();
        pages.sort();
        pages.dedup();
        assert!(pages.len() > 10, "{people}");
        pages
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // Nothing is kept of it, so nothing is lost by an end without notice.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn free_port() -> u16 {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a port is free");
    listener.local_addr().expect("it has an address").port()
}

/// Which pages are asked for.
#[derive(Clone, Copy)]
pub(crate) enum Mix {
    /// Every second time the start page, else the page of one case after another.
    HalfAndHalf,
    /// Only the start page.
    Start,
    /// Only pages of cases, each with its note in the access log.
    Case,
}

/// How long each of many requests took when so many wait at once, and how long all of them took together.
pub(crate) fn ask(
    server: &Server,
    cases: &[String],
    mix: Mix,
    at_once: usize,
) -> (Vec<Duration>, Duration) {
    let next = AtomicUsize::new(0);
    let took = Mutex::new(Vec::with_capacity(REQUESTS));
    let begun = Instant::now();
    std::thread::scope(|scope| {
        for _ in 0..at_once {
            scope.spawn(|| {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= REQUESTS {
                        break;
                    }
                    let path = path_of(number, mix, cases);
                    let asked = Instant::now();
                    let answer = server.get(path).expect("the program answers");
                    let elapsed = asked.elapsed();
                    assert_eq!(answer.status, 200, "{path}: {}", answer.text());
                    took.lock().expect("no thread panicked").push(elapsed);
                }
            });
        }
    });
    (
        took.into_inner().expect("no thread panicked"),
        begun.elapsed(),
    )
}

fn path_of(number: usize, mix: Mix, cases: &[String]) -> &str {
    let start = match mix {
        Mix::HalfAndHalf => number.is_multiple_of(2),
        Mix::Start => true,
        Mix::Case => false,
    };
    if start {
        return "/";
    }
    &cases[number / 2 % cases.len()]
}
