//! The program as a practitioner meets it: served from a folder, with a browser that fills in forms and audits every page.

use std::io::{BufRead as _, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

use serde_json::json;
use tests::axe::assert_accessible;
use tests::browser::Browser;
use tests::tools;

/// Sizes at which a practitioner's page must hold: a laptop, and a tablet on its side.
const SIZES: [(u32, u32); 2] = [(1366, 900), (1024, 768)];

/// The program serving a folder of its own; both end with the test.
pub(crate) struct Served {
    child: Child,
    folder: PathBuf,
    pub(crate) address: String,
}

impl Served {
    /// Serves an empty folder on a day.
    pub(crate) fn start(name: &str, on: &str) -> Served {
        let folder = std::env::temp_dir().join(format!("hearthpace-{}-{name}", std::process::id()));
        let mut command = Command::new(tools::hearthpace());
        command
            .args(["serve", "--on", on, "--listen", "127.0.0.1:0", "--data"])
            .arg(&folder);
        let (child, address) = started(&mut command);
        Served {
            child,
            folder,
            address,
        }
    }

    /// Serves an invented caseload.
    pub(crate) fn demonstration(on: &str) -> Served {
        let mut command = Command::new(tools::hearthpace());
        let port = tests::browser::free_port().to_string();
        command.args(["demo", "--on", on, "--port", &port]);
        let (child, address) = started(&mut command);
        Served {
            child,
            folder: PathBuf::new(),
            address,
        }
    }

    /// Ends the program without a warning and serves the same folder on another day.
    pub(crate) fn on_another_day(self, on: &str) -> Served {
        let folder = self.folder.clone();
        let mut old = self;
        old.folder = PathBuf::new();
        drop(old);
        let mut command = Command::new(tools::hearthpace());
        command
            .args(["serve", "--on", on, "--listen", "127.0.0.1:0", "--data"])
            .arg(&folder);
        let (child, address) = started(&mut command);
        Served {
            child,
            folder,
            address,
        }
    }
}

/// Starts the program and waits until it says where it is.
fn started(command: &mut Command) -> (Child, String) {
    let mut child = command
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let output = child.stdout.take().expect("its output is ours");
    let at = BufReader::new(output)
        .lines()
        .map_while(Result::ok)
        .find_map(|line| {
            let rest = line.split("http://").nth(1)?.to_owned();
            rest.split(['/', ' ']).next().map(str::to_owned)
        });
    let address = format!("http://{}", at.expect("it says where it is"));
    (child, address)
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        if !self.folder.as_os_str().is_empty() {
            let _ = std::fs::remove_dir_all(&self.folder);
        }
    }
}

/// A practitioner at a browser.
pub(crate) struct Desk {
    pub(crate) browser: Browser,
    pub(crate) address: String,
}

impl Desk {
    pub(crate) fn open(served: &Served) -> Desk {
        Desk {
            browser: Browser::open(SIZES[0].0, SIZES[0].1),
            address: served.address.clone(),
        }
    }

    pub(crate) fn go(&self, path: &str) {
        let address = match path.starts_with("http") {
            true => path.to_owned(),
            false => format!("{}{path}", self.address),
        };
        self.browser.go(&address);
    }

    /// Sets fields of any kind as a person would leave them, without sending.
    pub(crate) fn fill(&self, fields: &[(&str, &str)]) {
        for (name, value) in fields {
            let set = self.browser.run(
                "const fields = document.querySelectorAll(`[name='${arguments[0]}']`); if (!fields.length) return 'not asked';\
                 for (const one of fields) {\
                   if (one.type === 'checkbox' || one.type === 'radio') { if (one.value === arguments[1]) { one.checked = true; return 'set'; } }\
                   else { one.value = arguments[1]; return one.value === arguments[1] ? 'set' : 'not offered'; } }\
                 return 'not offered';",
                &[json!(name), json!(value)],
            );
            assert_eq!(set, "set", "{name} = {value} on {}", self.browser.address());
        }
    }

    /// Waits until the page says something: a form that was sent takes its time to come back.
    pub(crate) fn until_said(&self, words: &str) {
        self.browser.wait(&format!("the page says '{words}'"), || {
            let found = self.browser.run(
                "const main = document.querySelector('main'); return document.readyState === 'complete' && !!main && main.innerText.includes(arguments[0]);",
                &[json!(words)],
            );
            (found == true).then_some(())
        });
    }

    /// Presses the form's one solid button.
    pub(crate) fn send(&self) {
        self.browser.click("main form button.do");
    }

    /// What the page says, as it is read.
    pub(crate) fn said(&self) -> String {
        let said = self.browser.run(
            "const main = document.querySelector('main'); return main ? main.innerText : ''",
            &[],
        );
        said.as_str().unwrap_or_default().to_owned()
    }

    #[track_caller]
    pub(crate) fn assert_says(&self, words: &[&str]) {
        let said = self.said();
        for one in words {
            assert!(said.contains(one), "'{one}' is not said in:\n{said}");
        }
    }

    /// Looks at the page shown: it passes the audit, nothing is wider than the window, and a picture of it is kept where
    /// pictures are asked for.
    pub(crate) fn look(&self, name: &str) {
        assert_accessible(&self.browser);
        for (width, height) in SIZES.into_iter().rev() {
            resize(&self.browser, width, height);
            let over = self.browser.run(
                "return document.documentElement.scrollWidth - document.documentElement.clientWidth",
                &[],
            );
            keep_picture(&self.browser, &format!("{name}-{width}"));
            assert_eq!(over, 0, "{name} is wider than {width}");
        }
    }

    /// Faults that the browser reported. A form that is refused on purpose answers 422; anything else is a fault.
    pub(crate) fn assert_no_faults(&self) {
        let severe = |line: &String| line.starts_with("SEVERE") && !line.contains("status of 422");
        let faults: Vec<String> = self
            .browser
            .complaints()
            .into_iter()
            .filter(severe)
            .collect();
        assert_eq!(faults, Vec::<String>::new());
    }
}

/// Gives the page another window.
pub(crate) fn resize(browser: &Browser, width: u32, height: u32) {
    browser.devtools(
        "Emulation.setDeviceMetricsOverride",
        json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
    );
}

/// Keeps a picture of the whole page under `target/screens`, only where `HEARTHPACE_SCREENS` is set.
pub(crate) fn keep_picture(browser: &Browser, name: &str) {
    if std::env::var_os("HEARTHPACE_SCREENS").is_none() {
        return;
    }
    let folder = tools::root().join("target/screens");
    std::fs::create_dir_all(&folder).expect("the folder for pictures can be made");
    std::fs::write(folder.join(format!("{name}.png")), browser.picture())
        .expect("a picture can be written");
}
