//! A browser without a window, told what to do through two pipes (the DevTools protocol: JSON, each message ended by NUL).

use std::fs::{self, File, OpenOptions};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::sync::atomic::{AtomicU32, Ordering};

use serde_json::{Value, json};

/// A browser and its one page.
pub struct Browser {
    child: Child,
    folder: PathBuf,
    to: File,
    from: BufReader<File>,
    session: String,
    sent: u64,
}

impl Browser {
    /// Starts the browser that `CHROMIUM` names, or `chromium`.
    pub fn start() -> Self {
        static STARTED: AtomicU32 = AtomicU32::new(0);
        let (process, number) = (std::process::id(), STARTED.fetch_add(1, Ordering::Relaxed));
        let folder = std::env::temp_dir().join(format!("halfskip-browser-{process}-{number}"));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        let pipes = ["to", "from"].map(|name| folder.join(name));
        assert!(Command::new("mkfifo").args(&pipes).status().unwrap().success());
        // The pipes are its descriptors 3 and 4. As root, as in a container, it runs only without its sandbox.
        let program = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".into());
        let start = "exec \"$0\" --headless --no-sandbox --disable-gpu --hide-scrollbars --remote-debugging-pipe \
                     --user-data-dir=\"$1\" about:blank 3<\"$1/to\" 4>\"$1/from\" >/dev/null 2>&1";
        let child = Command::new("sh").args(["-c", start, &program]).arg(&folder).spawn().unwrap();
        let to = OpenOptions::new().write(true).open(&pipes[0]).unwrap();
        let from = BufReader::new(File::open(&pipes[1]).unwrap());
        let mut browser = Self { child, folder, to, from, session: String::new(), sent: 0 };
        let target = browser.ask("Target.createTarget", json!({"url": "about:blank"}));
        let attach = json!({"targetId": target["targetId"], "flatten": true});
        browser.session = browser.ask("Target.attachToTarget", attach)["sessionId"].as_str().unwrap().into();
        browser.ask("Page.enable", json!({}));
        browser
    }

    fn next(&mut self) -> Value {
        let mut message = Vec::new();
        self.from.read_until(0, &mut message).unwrap();
        assert_eq!(message.pop(), Some(0), "the browser has gone: is it installed?");
        serde_json::from_slice(&message).unwrap()
    }

    /// Sends a command and waits for its result.
    pub fn ask(&mut self, method: &str, parameters: Value) -> Value {
        self.sent += 1;
        let mut message = json!({"id": self.sent, "method": method, "params": parameters});
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        self.to.write_all(format!("{message}\0").as_bytes()).unwrap();
        loop {
            let mut answer = self.next();
            if answer["id"] == self.sent {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].take();
            }
        }
    }

    /// Shows a page at a width, in pixels.
    pub fn show(&mut self, page: &Path, width: u32) {
        self.size(width, 900);
        let url = format!("file://{}", page.display());
        let shown = self.ask("Page.navigate", json!({"url": url}));
        assert!(shown["errorText"].is_null(), "{url}: {shown}");
        while self.evaluate("document.readyState + location.href") != json!(format!("complete{url}")) {
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
    }

    /// Makes the page so large.
    pub fn size(&mut self, width: u32, height: u32) {
        let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        self.ask("Emulation.setDeviceMetricsOverride", size);
    }

    /// The value of an expression on the page.
    pub fn evaluate(&mut self, expression: &str) -> Value {
        let mut answer =
            self.ask("Runtime.evaluate", json!({"expression": expression, "returnByValue": true}));
        assert!(answer["exceptionDetails"].is_null(), "{answer}");
        answer["result"]["value"].take()
    }

    /// A picture of a part of the page: x, y, width, height.
    pub fn picture(&mut self, [x, y, width, height]: [f64; 4]) -> Vec<u8> {
        let clip = json!({"x": x, "y": y, "width": width, "height": height, "scale": 1});
        let taken = json!({"format": "png", "clip": clip, "captureBeyondViewport": true});
        decoded(self.ask("Page.captureScreenshot", taken)["data"].as_str().unwrap())
    }

    /// The page printed, on paper of so many inches.
    pub fn printed(&mut self, width: f64, height: f64) -> Vec<u8> {
        let paper = json!({"paperWidth": width, "paperHeight": height, "preferCSSPageSize": false});
        decoded(self.ask("Page.printToPDF", paper)["data"].as_str().unwrap())
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// Base64 (RFC 4648), of which the sender is trusted.
fn decoded(text: &str) -> Vec<u8> {
    let value = |byte: u8| match byte {
        b'A'..=b'Z' => u32::from(byte - b'A'),
        b'a'..=b'z' => u32::from(byte - b'a') + 26,
        b'0'..=b'9' => u32::from(byte - b'0') + 52,
        b'+' => 62,
        _ => 63,
    };
    let digits: Vec<u8> = text.bytes().filter(|byte| *byte != b'=').collect();
    let mut out = Vec::with_capacity(digits.len() / 4 * 3);
    for group in digits.chunks(4) {
        let bits = (0..4).fold(0, |bits, place| bits << 6 | group.get(place).map_or(0, |byte| value(*byte)));
        out.extend_from_slice(&bits.to_be_bytes()[1..group.len()]);
    }
    out
}

#[test]
fn base_64_gives_back_what_the_rfc_shows() {
    // RFC 4648, section 10.
    for (text, bytes) in [("", ""), ("Zg==", "f"), ("Zm8=", "fo"), ("Zm9v", "foo"), ("Zm9vYmE=", "fooba")] {
        assert_eq!(decoded(text), bytes.as_bytes());
    }
}
