//! A real browser, driven through the standard WebDriver protocol: Debian's chromium without a window.

use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::{http, tools};

/// How long a page may take to show what a test waits for.
const PATIENCE: Duration = Duration::from_secs(20);

/// How WebDriver names the id of an element in its answers.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// One browser with a fresh profile; it is closed and its profile removed when this is dropped.
pub struct Browser {
    driver: Child,
    port: u16,
    session: String,
    profile: PathBuf,
}

/// An element of the page as it is shown now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Element(String);

impl Browser {
    /// Starts a browser with a window of this size in CSS pixels.
    ///
    /// # Panics
    /// When chromium or its driver is not installed or does not start.
    pub fn open(width: u32, height: u32) -> Browser {
        let port = free_port();
        let profile =
            std::env::temp_dir().join(format!("hearthpace-browser-{}-{port}", std::process::id()));
        let driver = Command::new(tools::system(&["chromedriver"]))
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the driver was found a moment ago");
        let mut browser = Browser {
            driver,
            port,
            session: String::new(),
            profile,
        };
        browser.wait_for_driver();
        browser.session = browser.start_session(width, height);
        // The headless window has borders, so the size is set for the page itself.
        browser.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
        browser
    }

    fn wait_for_driver(&self) {
        let started = Instant::now();
        while http::send(self.port, "GET", "/status", &[], b"").is_err() {
            assert!(started.elapsed() < PATIENCE, "chromedriver does not answer");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn start_session(&self, width: u32, height: u32) -> String {
        let arguments = [
            "--headless=new".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--disable-quic".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            "--no-first-run".to_owned(),
            "--hide-scrollbars".to_owned(),
            "--force-color-profile=srgb".to_owned(),
            format!("--window-size={width},{height}"),
            format!("--user-data-dir={}", self.profile.display()),
        ];
        let options = json!({ "args": arguments, "binary": tools::system(&["chromium", "chromium-browser"]) });
        let wanted = json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome", "goog:chromeOptions": options, "goog:loggingPrefs": { "browser": "ALL" } } } });
        let answer = self.send("POST", "/session", &wanted);
        answer["sessionId"]
            .as_str()
            .expect("a new session has an id")
            .to_owned()
    }

    /// Shows an address (`http://...` or `file://...`) and waits until it is loaded.
    pub fn go(&self, address: &str) {
        self.post("/url", &json!({ "url": address }));
    }

    /// Shows a file of this machine.
    pub fn go_to_file(&self, file: &Path) {
        let full = file.canonicalize().expect("a page under test exists");
        self.go(&format!("file://{}", full.display()));
    }

    /// Runs the body of a function in the page and hands back what it returns.
    pub fn run(&self, script: &str, arguments: &[Value]) -> Value {
        self.post(
            "/execute/sync",
            &json!({ "script": script, "args": arguments }),
        )
    }

    /// Runs a script whose last argument is the function that takes its result.
    pub fn run_until_done(&self, script: &str, arguments: &[Value]) -> Value {
        self.post(
            "/execute/async",
            &json!({ "script": script, "args": arguments }),
        )
    }

    /// The first element that this CSS selector names, waiting for it to appear.
    ///
    /// # Panics
    /// When it does not appear; the message holds the text of the page.
    pub fn find(&self, selector: &str) -> Element {
        self.wait(&format!("`{selector}` appears"), || {
            self.all(selector).into_iter().next()
        })
    }

    /// Every element that this CSS selector names now.
    pub fn all(&self, selector: &str) -> Vec<Element> {
        let found = self.post(
            "/elements",
            &json!({ "using": "css selector", "value": selector }),
        );
        let list = found.as_array().cloned().unwrap_or_default();
        list.iter()
            .filter_map(|one| one[ELEMENT].as_str())
            .map(|id| Element(id.to_owned()))
            .collect()
    }

    /// Waits until this hands something back.
    ///
    /// # Panics
    /// When it does not within the patience of a test; the message holds the text of the page.
    pub fn wait<T>(&self, what: &str, mut ready: impl FnMut() -> Option<T>) -> T {
        let started = Instant::now();
        loop {
            if let Some(found) = ready() {
                return found;
            }
            assert!(
                started.elapsed() < PATIENCE,
                "waited in vain until {what}; the page at {} says:\n{}",
                self.address(),
                self.run("return document.body ? document.body.innerText : ''", &[])
                    .as_str()
                    .unwrap_or_default()
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Clicks the first element that this CSS selector names.
    pub fn click(&self, selector: &str) {
        let Element(id) = self.find(selector);
        self.post(&format!("/element/{id}/click"), &json!({}));
    }

    /// Types into the first element that this CSS selector names, after what stands there.
    pub fn type_into(&self, selector: &str, text: &str) {
        let Element(id) = self.find(selector);
        self.post(&format!("/element/{id}/value"), &json!({ "text": text }));
    }

    /// Presses one key where the focus is; special keys are WebDriver's code points, such as [`TAB`] and [`ENTER`].
    pub fn press(&self, key: char) {
        let actions = json!({ "actions": [{ "type": "key", "id": "keys", "actions": [
            { "type": "keyDown", "value": key.to_string() }, { "type": "keyUp", "value": key.to_string() } ] }] });
        self.post("/actions", &actions);
    }

    /// The text of the first element that this CSS selector names, as it is shown.
    pub fn text(&self, selector: &str) -> String {
        let Element(id) = self.find(selector);
        self.get(&format!("/element/{id}/text"))
            .as_str()
            .unwrap_or_default()
            .to_owned()
    }

    /// The address of the page shown.
    pub fn address(&self) -> String {
        self.get("/url").as_str().unwrap_or_default().to_owned()
    }

    /// What the page's scripts and the browser complained of since the last call, as `LEVEL message`.
    pub fn complaints(&self) -> Vec<String> {
        let entries = self.post("/se/log", &json!({ "type": "browser" }));
        let list = entries.as_array().cloned().unwrap_or_default();
        list.iter()
            .map(|one| {
                format!(
                    "{} {}",
                    one["level"].as_str().unwrap_or(""),
                    one["message"].as_str().unwrap_or("")
                )
            })
            .collect()
    }

    /// A picture (PNG) of the whole page, however long it is.
    pub fn picture(&self) -> Vec<u8> {
        let shot = self.devtools(
            "Page.captureScreenshot",
            json!({ "format": "png", "captureBeyondViewport": true }),
        );
        from_base64(shot["data"].as_str().expect("a picture has data"))
    }

    /// Sends a command of the browser's own protocol, for what WebDriver does not offer.
    pub fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.post(
            "/goog/cdp/execute",
            &json!({ "cmd": command, "params": parameters }),
        )
    }

    fn get(&self, path: &str) -> Value {
        self.send(
            "GET",
            &format!("/session/{}{path}", self.session),
            &Value::Null,
        )
    }

    fn post(&self, path: &str, body: &Value) -> Value {
        self.send("POST", &format!("/session/{}{path}", self.session), body)
    }

    fn send(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = if body.is_null() {
            Vec::new()
        } else {
            body.to_string().into_bytes()
        };
        let headers = [("content-type", "application/json; charset=utf-8")];
        let answer = http::send(self.port, method, path, &headers, &body).unwrap_or_else(|error| {
            panic!("the browser's driver does not answer {method} {path}: {error}")
        });
        let mut value: Value = serde_json::from_slice(&answer.body).unwrap_or_else(|error| {
            panic!("the browser's driver answered {method} {path} without JSON: {error}")
        });
        let value = value["value"].take();
        let message = value["message"].as_str().unwrap_or_default();
        assert!(
            answer.status == 200,
            "the browser refused {method} {path}: {message}"
        );
        value
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !self.session.is_empty() {
            // Closing properly ends chromium's own processes; a driver that is gone has none left to end.
            let _ = http::send(
                self.port,
                "DELETE",
                &format!("/session/{}", self.session),
                &[],
                b"",
            );
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}

/// The tabulator key.
pub const TAB: char = '\u{E004}';
/// The enter key.
pub const ENTER: char = '\u{E007}';
/// The escape key.
pub const ESCAPE: char = '\u{E00C}';

/// A port that nobody listened on a moment ago.
pub fn free_port() -> u16 {
    TcpListener::bind(("127.0.0.1", 0))
        .and_then(|listener| listener.local_addr())
        .expect("a machine that runs tests has a free port")
        .port()
}

fn from_base64(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut bits, mut width) = (0_u32, 0);
    for letter in text.bytes() {
        let six = match letter {
            b'A'..=b'Z' => letter - b'A',
            b'a'..=b'z' => letter - b'a' + 26,
            b'0'..=b'9' => letter - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => continue,
        };
        bits = bits << 6 | u32::from(six);
        width += 6;
        if width >= 8 {
            width -= 8;
            bytes.push((bits >> width & 0xFF) as u8);
        }
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::from_base64;

    #[test]
    fn base64_is_read() {
        assert_eq!(from_base64("SGVhcnRocGFjZQ=="), b"Hearthpace");
        assert_eq!(from_base64("//79"), [0xFF, 0xFE, 0xFD]);
    }
}
