//! A browser over the DevTools protocol, by pipe: messages are JSON texts that end in a zero
//! byte. The shell hands the pipes on as descriptors 3 and 4, where Chromium looks for them.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

const PATIENCE: Duration = Duration::from_secs(120);

/// A headless browser with one page.
pub struct Browser {
    child: Child,
    to: ChildStdin,
    from: Receiver<Value>,
    last: u64,
    session: Option<String>,
    /// What the page told of itself since the last navigation.
    pub events: Vec<Value>,
    _profile: tempfile::TempDir,
}

impl Browser {
    /// Starts `RESTBITE_CHROMIUM`, or `chromium`, with an empty profile.
    pub fn start() -> Self {
        let program = std::env::var("RESTBITE_CHROMIUM").unwrap_or_else(|_| "chromium".into());
        let profile = tempfile::tempdir().unwrap();
        let mut child = Command::new("sh")
            .args(["-c", "exec \"$0\" \"$@\" 3<&0 4>&1 </dev/null >/dev/null 2>&1", &program])
            // The pages are our own, and a container's root may not make a sandbox.
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"])
            .args(["--no-first-run", "--remote-debugging-pipe", "--force-color-profile=srgb"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("sh starts");
        let (to, out) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let (sender, from) = channel();
        std::thread::spawn(move || {
            for message in BufReader::new(out).split(0).map_while(Result::ok) {
                let Ok(value) = serde_json::from_slice(&message) else { continue };
                if sender.send(value).is_err() {
                    break;
                }
            }
        });
        let (events, session) = (Vec::new(), None);
        let mut browser = Self { child, to, from, last: 0, session, events, _profile: profile };
        let page = browser.call("Target.createTarget", json!({ "url": "about:blank" }));
        let attach = json!({ "targetId": page["targetId"], "flatten": true });
        let attached = browser.call("Target.attachToTarget", attach);
        browser.session = attached["sessionId"].as_str().map(String::from);
        for part in ["Page", "Runtime", "Network", "Log"] {
            browser.call(&format!("{part}.enable"), json!({}));
        }
        browser
    }

    /// Calls a method of the protocol and waits for its answer.
    pub fn call(&mut self, method: &str, params: Value) -> Value {
        self.last += 1;
        let mut message = json!({ "id": self.last, "method": method, "params": params });
        if let Some(session) = &self.session {
            message["sessionId"] = json!(session);
        }
        self.to.write_all(message.to_string().as_bytes()).expect("the browser listens");
        self.to.write_all(&[0]).expect("the browser listens");
        self.to.flush().unwrap();
        loop {
            let answer = self.receive(method);
            if answer["id"].as_u64() == Some(self.last) {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
            self.events.push(answer);
        }
    }

    fn receive(&self, what: &str) -> Value {
        let hint = "is Chromium installed? RESTBITE_CHROMIUM names it";
        self.from.recv_timeout(PATIENCE).unwrap_or_else(|e| panic!("{what}: {e}; {hint}"))
    }

    /// Opens a file and waits until it is loaded.
    pub fn open(&mut self, file: &Path) {
        self.events.clear();
        self.call("Page.navigate", json!({ "url": url(file) }));
        self.loaded();
    }

    /// Loads the page again.
    pub fn reload(&mut self) {
        self.events.clear();
        self.call("Page.reload", json!({}));
        self.loaded();
    }

    fn loaded(&mut self) {
        while !self.events.iter().any(|e| e["method"] == "Page.loadEventFired") {
            let event = self.receive("load");
            self.events.push(event);
        }
    }

    /// The value of an expression in the page.
    pub fn eval(&mut self, expression: &str) -> Value {
        let params =
            json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        let answer = self.call("Runtime.evaluate", params);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Waits until an expression holds.
    pub fn until(&mut self, expression: &str) {
        for _ in 0..300 {
            if self.eval(expression) == json!(true) {
                return;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        let page = self.eval("document.body.innerText.slice(0, 2000)");
        panic!("never came true: {expression}\n{page}");
    }

    /// Sets the window's width in CSS pixels.
    pub fn width(&mut self, width: u32) {
        let size =
            json!({ "width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.call("Emulation.setDeviceMetricsOverride", size);
    }

    /// Light or dark.
    pub fn scheme(&mut self, scheme: &str) {
        let feature = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.call("Emulation.setEmulatedMedia", json!({ "features": feature }));
    }

    /// Every address that was asked for.
    pub fn requests(&self) -> Vec<String> {
        let sent = self.events.iter().filter(|e| e["method"] == "Network.requestWillBeSent");
        sent.filter_map(|e| e["params"]["request"]["url"].as_str()).map(String::from).collect()
    }

    /// Errors on the console, exceptions and dialogs.
    pub fn faults(&self) -> Vec<String> {
        let fault = |e: &&Value| match e["method"].as_str() {
            Some("Runtime.exceptionThrown" | "Page.javascriptDialogOpening") => true,
            Some("Runtime.consoleAPICalled") => e["params"]["type"] == "error",
            Some("Log.entryAdded") => e["params"]["entry"]["level"] == "error",
            _ => false,
        };
        self.events.iter().filter(fault).map(Value::to_string).collect()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.to.write_all(b"{\"id\":0,\"method\":\"Browser.close\"}\0");
        for _ in 0..50 {
            if matches!(self.child.try_wait(), Ok(Some(_)) | Err(_)) {
                return;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The address of a file.
pub fn url(file: &Path) -> String {
    format!("file://{}", file.display())
}
