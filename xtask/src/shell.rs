//! Runs other programs, either keeping what they print or showing it as it comes.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::{Arc, Mutex};
use std::thread;

use anyhow::{Context, Result, bail};

/// The root of the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("xtask stands one folder below the root")
        .to_path_buf()
}

/// A cargo that works on the whole workspace, whichever folder it was called from.
pub(crate) fn cargo() -> Command {
    program(&std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()))
}

/// Any other program, started in the root of the workspace.
pub(crate) fn program(name: &str) -> Command {
    let mut command = Command::new(name);
    command.current_dir(root());
    command
}

/// What a program printed (both streams, line by line as they came) and whether it succeeded.
pub(crate) struct Outcome {
    pub(crate) succeeded: bool,
    pub(crate) printed: String,
}

/// Runs a program, shows what it prints as it comes and keeps it.
pub(crate) fn show(command: &mut Command) -> Result<Outcome> {
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .with_context(|| format!("starting {}", words_of(command)))?;
    let kept = Arc::new(Mutex::new(String::new()));
    let stdout = child
        .stdout
        .take()
        .map(|stream| forward(stream, &kept, false));
    let stderr = child
        .stderr
        .take()
        .map(|stream| forward(stream, &kept, true));
    let status = child
        .wait()
        .with_context(|| format!("waiting for {}", words_of(command)))?;
    for reader in [stdout, stderr].into_iter().flatten() {
        reader.join().expect("a reader only copies lines");
    }
    let printed = std::mem::take(
        &mut *kept
            .lock()
            .expect("no reader panics while it holds the lock"),
    );
    Ok(Outcome {
        succeeded: status.success(),
        printed,
    })
}

fn forward(
    stream: impl Read + Send + 'static,
    kept: &Arc<Mutex<String>>,
    error: bool,
) -> thread::JoinHandle<()> {
    let kept = Arc::clone(kept);
    thread::spawn(move || {
        for line in BufReader::new(stream).split(b'\n').map_while(Result::ok) {
            let line = String::from_utf8_lossy(&line);
            if error {
                eprintln!("{line}");
            } else {
                println!("{line}");
            }
            let mut text = kept
                .lock()
                .expect("no reader panics while it holds the lock");
            text.push_str(&line);
            text.push('\n');
        }
    })
}

/// Runs a program quietly and hands back its standard output; a failure is an error that carries what it said.
pub(crate) fn read(command: &mut Command) -> Result<String> {
    let output = command
        .stdin(Stdio::null())
        .output()
        .with_context(|| format!("starting {}", words_of(command)))?;
    if !output.status.success() {
        bail!(
            "{} failed: {}",
            words_of(command),
            String::from_utf8_lossy(&output.stderr).trim()
        );
    }
    String::from_utf8(output.stdout)
        .with_context(|| format!("reading what {} printed", words_of(command)))
}

/// Runs a program quietly; a failure is an error that carries what it said.
pub(crate) fn must(command: &mut Command) -> Result<()> {
    read(command).map(|_| ())
}

/// Every file that git knows or would take, by its path from the root; one deleted but not yet committed is left out.
pub(crate) fn files_of_the_tree() -> Result<Vec<String>> {
    let listed = read(program("git").args([
        "ls-files",
        "--cached",
        "--others",
        "--exclude-standard",
        "--deduplicate",
        "-z",
    ]))?;
    let root = root();
    Ok(listed
        .split('\0')
        .filter(|path| !path.is_empty() && root.join(path).is_file())
        .map(str::to_owned)
        .collect())
}

fn words_of(command: &Command) -> String {
    let mut words = command.get_program().to_string_lossy().into_owned();
    for argument in command.get_args() {
        words.push(' ');
        words.push_str(&argument.to_string_lossy());
    }
    words
}
