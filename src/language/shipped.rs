//! The language folders that travel inside the program.

use std::collections::BTreeMap;

use include_dir::{Dir, include_dir};

use super::load::TOPICS_FOLDER;

static DIALOGS: Dir = include_dir!("$CARGO_MANIFEST_DIR/dialogs");

/// Every shipped folder: its name, and its own files by name, those of its topics by theirs within. Rehearsals are not among them.
pub fn folders() -> Vec<(String, BTreeMap<String, String>)> {
    let name = |path: &std::path::Path| path.file_name().and_then(|name| name.to_str()).map(str::to_owned);
    let mut folders: Vec<_> = DIALOGS
        .dirs()
        .filter_map(|folder| {
            let read = |file: &include_dir::File, within: &str| {
                Some((format!("{within}{}", name(file.path())?), file.contents_utf8()?.to_owned()))
            };
            let own = folder.files().filter_map(|file| read(file, ""));
            let topics = folder.dirs().filter(|inner| inner.path().ends_with("topics"));
            let topics = topics.flat_map(|inner| inner.files()).filter_map(|file| read(file, TOPICS_FOLDER));
            Some((name(folder.path())?, own.chain(topics).collect()))
        })
        .collect();
    folders.sort();
    folders
}

/// Every shipped rehearsal: its path, and its text.
pub fn rehearsals() -> Vec<(String, String)> {
    let written = |file: &include_dir::File| {
        let path = file.path().to_str().filter(|path| path.ends_with(".txt"))?;
        Some((path.to_owned(), file.contents_utf8()?.to_owned()))
    };
    let folders = DIALOGS.dirs().flat_map(|language| language.dirs());
    let mut all: Vec<_> = folders.flat_map(|folder| folder.files()).filter_map(written).collect();
    all.sort();
    all
}
