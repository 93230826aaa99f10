//! What the README, DEVELOPERS.md and Cargo.toml promise, held against what is there.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Every file below a folder, by its path from the root.
fn files_in(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                found.push(path.strip_prefix(root()).expect("below the root").to_owned());
            }
        }
    }
    found.sort();
    found
}

/// Numbers of a version, most significant first.
fn version(text: &str) -> Vec<u32> {
    text.split('.').map(|part| part.parse().unwrap_or(0)).collect()
}

#[test]
fn the_oldest_compiler_is_the_one_that_the_locked_dependencies_need() {
    // Only what is built here is at hand: the packages of other systems need not be.
    let version_of = Command::new("rustc").arg("-vV").output().expect("rustc").stdout;
    let version_of = String::from_utf8(version_of).expect("text");
    let host = version_of.lines().find_map(|line| line.strip_prefix("host: ")).expect("the host");
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", host])
        .current_dir(root())
        .output()
        .expect("cargo");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let of = |package: &Value| package["rust_version"].as_str().unwrap_or("0").to_owned();
    let packages = metadata["packages"].as_array().expect("packages");
    let (ours, theirs): (Vec<&Value>, Vec<&Value>) = packages.iter().partition(|package| package["name"] == "noonwater");
    let needed = theirs.into_iter().map(|package| version(&of(package))).max().expect("dependencies");
    let promised = of(ours[0]);
    assert_eq!(version(&promised), needed[..2], "Cargo.toml's rust-version, against the newest that a dependency asks for");
    let said = format!("Rust ({promised} or newer)");
    assert!(text("README.md").contains(&said), "the README says: {said}");
}

#[test]
fn developers_md_names_every_file_of_tests() {
    let page = text("DEVELOPERS.md");
    for path in files_in("tests").iter().filter(|path| path.components().count() == 2) {
        let name = path.display().to_string();
        // What proptest keeps beside a test belongs to it.
        if !name.ends_with("regressions") {
            assert!(page.contains(&name), "DEVELOPERS.md does not name {name}");
        }
    }
    for path in files_in("tests").iter().filter(|path| path.ends_with("main.rs") && path.components().count() == 3) {
        let folder = path.parent().expect("a folder").display().to_string();
        assert!(page.contains(&format!("{folder}/")), "DEVELOPERS.md does not name {folder}/");
    }
}

/// The figures of a common rule of thumb, which are a check and no example: together they would make one seem the set to buy.
const NO_EXAMPLE: [&str; 7] = ["5x80", "lift 5 pipe 40", "garden 1500", "15000 l/h", "15,000", "8m 16a", "20 l 6 s at 4"];

#[test]
fn no_text_that_people_see_has_a_rule_of_thumb_s_set_for_its_example() {
    let is_seen = |path: &PathBuf| {
        let name = path.display().to_string();
        let is_text =
            ["ftl", "txt", "toml", "html", "json", "md", "rs"].iter().any(|end| name.ends_with(&format!(".{end}")));
        // Words and examples that growers type are read, not shown.
        is_text && !name.ends_with("words.toml")
    };
    let mut seen: Vec<PathBuf> = ["dialogs", "src"].into_iter().flat_map(files_in).filter(is_seen).collect();
    seen.extend([PathBuf::from("README.md"), PathBuf::from("DEVELOPERS.md")]);
    let mut found = Vec::new();
    for path in &seen {
        let name = path.display().to_string();
        let text = text(&name);
        // Unit tests stand below what people see, and read messages of many kinds.
        let text = text.split("#[cfg(test)]").next().unwrap_or_default();
        let told = NO_EXAMPLE.iter().filter(|figures| text.contains(**figures));
        found.extend(told.map(|figures| format!("{name}: {figures}")));
    }
    assert!(found.is_empty(), "{found:#?}");
}
