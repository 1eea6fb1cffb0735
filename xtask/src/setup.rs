//! Installs the tools that the tests need and that are missing; quick when nothing is.

use std::fs;
use std::thread::sleep;
use std::time::Duration;

use anyhow::{Context, Result, bail};

use crate::shell::{must, program, read, root};
use crate::tools::{self, SYSTEM_TOOLS};

/// Where the heart data stand inside the Python package that carries them; the package itself is not installed.
const HEART_DATA_PACKAGE: &str = "Orange3==3.40.0";
const HEART_DATA_MEMBER: &str = "Orange/datasets/heart_disease.tab";

/// Installs whatever is missing: system packages when root, Python and npm packages below `target/`.
pub(crate) fn install_missing() -> Result<()> {
    install_system_packages()?;
    install_python_packages()?;
    fetch_heart_data()?;
    install_npm_packages()?;
    println!("setup: everything is there");
    Ok(())
}

fn install_system_packages() -> Result<()> {
    let packages: Vec<&str> = SYSTEM_TOOLS
        .iter()
        .filter(|tool| !tool.is_present())
        .map(|tool| tool.package)
        .collect();
    if packages.is_empty() {
        return Ok(());
    }
    let by_hand = format!("apt-get install {}", packages.join(" "));
    if !tools::on_path("apt-get") {
        bail!(
            "these packages are missing and there is no apt-get here: {}",
            packages.join(" ")
        );
    }
    if read(program("id").arg("-u"))?.trim() != "0" {
        bail!("these packages are missing; as root: {by_hand}");
    }
    println!("setup: {by_hand}");
    // A mirror that is just being updated fails now and again, so both steps are repeated together.
    with_retries(|| {
        apt_get(&["update"])?;
        let mut install = vec!["install", "--yes", "--no-install-recommends"];
        install.extend(&packages);
        apt_get(&install)
    })?;
    match SYSTEM_TOOLS.iter().find(|tool| !tool.is_present()) {
        Some(tool) => bail!(
            "{} is still missing after installing {}",
            tool.name,
            tool.package
        ),
        None => Ok(()),
    }
}

fn apt_get(arguments: &[&str]) -> Result<()> {
    must(
        program("apt-get")
            .arg("--quiet")
            .args(arguments)
            .env("DEBIAN_FRONTEND", "noninteractive"),
    )
}

fn install_python_packages() -> Result<()> {
    if tools::python_is_ready() {
        return Ok(());
    }
    println!("setup: Python packages of xtask/requirements.txt");
    let folder = tools::python_folder();
    remove_folder(&folder)?;
    must(program("python3").args(["-m", "venv"]).arg(&folder))?;
    with_retries(|| {
        must(
            program(&folder.join("bin/python").to_string_lossy())
                .args([
                    "-m",
                    "pip",
                    "install",
                    "--quiet",
                    "--disable-pip-version-check",
                ])
                .args([
                    "--only-binary",
                    ":all:",
                    "--requirement",
                    "xtask/requirements.txt",
                ]),
        )
    })?;
    // Written last: a list beside the packages means that all of them are there.
    fs::copy(
        root().join("xtask/requirements.txt"),
        folder.join("requirements.txt"),
    )
    .context("noting which Python packages are installed")?;
    Ok(())
}

fn fetch_heart_data() -> Result<()> {
    let file = tools::heart_data();
    if file.exists() {
        return Ok(());
    }
    println!("setup: heart data out of {HEART_DATA_PACKAGE}");
    let folder = root().join("target/data/download");
    remove_folder(&folder)?;
    fs::create_dir_all(&folder).context("making the folder for the heart data")?;
    let python = tools::python_folder().join("bin/python");
    with_retries(|| {
        must(
            program(&python.to_string_lossy())
                .args([
                    "-m",
                    "pip",
                    "download",
                    "--quiet",
                    "--disable-pip-version-check",
                ])
                .args(["--no-deps", "--only-binary", ":all:", "--dest"])
                .arg(&folder)
                .arg(HEART_DATA_PACKAGE),
        )
    })?;
    let unpack = "import sys, glob, zipfile\n\
                  [wheel] = glob.glob(sys.argv[1] + '/*.whl')\n\
                  data = zipfile.ZipFile(wheel).read(sys.argv[2])\n\
                  open(sys.argv[3], 'wb').write(data)\n";
    must(
        program(&python.to_string_lossy())
            .args(["-c", unpack])
            .arg(&folder)
            .arg(HEART_DATA_MEMBER)
            .arg(&file),
    )?;
    remove_folder(&folder)
}

fn install_npm_packages() -> Result<()> {
    if tools::npm_is_ready() {
        return Ok(());
    }
    println!("setup: npm packages of xtask/npm");
    let folder = tools::npm_folder();
    remove_folder(&folder)?;
    fs::create_dir_all(&folder).context("making the folder for the npm packages")?;
    for name in ["package.json", "package-lock.json"] {
        fs::copy(root().join("xtask/npm").join(name), folder.join(name))
            .with_context(|| format!("copying xtask/npm/{name}"))?;
    }
    with_retries(|| {
        must(program("npm").current_dir(&folder).args([
            "ci",
            "--ignore-scripts",
            "--no-audit",
            "--no-fund",
            "--loglevel=error",
        ]))
    })?;
    fs::copy(
        root().join("xtask/npm/package-lock.json"),
        folder.join("installed.json"),
    )
    .context("noting which npm packages are installed")?;
    Ok(())
}

fn remove_folder(folder: &std::path::Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("removing {}", folder.display()))?;
    }
    Ok(())
}

/// Tries three times with a pause, for everything that needs the network.
fn with_retries(work: impl Fn() -> Result<()>) -> Result<()> {
    for pause_s in [5, 15] {
        match work() {
            Ok(()) => return Ok(()),
            Err(error) => {
                eprintln!("setup: {error:#}; trying again in {pause_s} s");
                sleep(Duration::from_secs(pause_s));
            }
        }
    }
    work()
}
