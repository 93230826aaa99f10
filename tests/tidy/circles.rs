//! Files of src that name each other in a circle.
//!
//! A file names another where a `use`, or a path from the root, from its parent or from itself, leads to it or to
//! something in it. A parent is its children's door: that it shows what they hold (`pub use child::..`) or hands on to them
//! (`child::run()`) does not count, as long as it brings nothing of theirs in.

use std::collections::{BTreeMap, BTreeSet};

use syn::visit::Visit;

use super::said::{Said, module_of};

type Module = Vec<String>;

/// The circles, each as the modules in it; none where the files fall from floor to floor.
pub fn circles<'s>(files: impl IntoIterator<Item = (&'s str, &'s str)>) -> Vec<Vec<String>> {
    let files: BTreeMap<Module, &str> = files
        .into_iter()
        .map(|(name, source)| (module_of(name), source))
        .filter(|(module, _)| !module.is_empty())
        .collect();
    let names: BTreeMap<&Module, BTreeSet<&Module>> =
        files.iter().map(|(module, source)| (module, named_by(module, source, &files))).collect();
    let mut found: Vec<Vec<String>> = Vec::new();
    for &start in names.keys() {
        let round: BTreeSet<&Module> =
            reached(start, &names).into_iter().filter(|other| reached(other, &names).contains(start)).collect();
        if !round.is_empty() {
            let circle: Vec<String> = round.iter().map(|module| module.join("::")).collect();
            if !found.contains(&circle) {
                found.push(circle);
            }
        }
    }
    found
}

/// Everything that can be come to from a module by what is named.
fn reached<'m>(from: &Module, names: &BTreeMap<&'m Module, BTreeSet<&'m Module>>) -> BTreeSet<&'m Module> {
    let mut seen = BTreeSet::new();
    let mut waiting: Vec<&Module> = names.get(from).into_iter().flatten().copied().collect();
    while let Some(module) = waiting.pop() {
        if seen.insert(module) {
            waiting.extend(names.get(module).into_iter().flatten().copied());
        }
    }
    seen
}

fn named_by<'m>(module: &Module, source: &str, files: &'m BTreeMap<Module, &str>) -> BTreeSet<&'m Module> {
    let mut said = Said::of(module);
    said.skips_shown = true;
    if let Ok(parsed) = syn::parse_file(source) {
        said.visit_file(&parsed);
    }
    let mut named = BTreeSet::new();
    let rooted = said.paths.iter().filter_map(|path| match path.split_first() {
        Some((root, inside)) if root == "crate" => Some(inside.to_vec()),
        _ => None,
    });
    let of_children = said.brought.iter().map(|path| module.iter().chain(path).cloned().collect());
    for inside in rooted.chain(of_children).collect::<Vec<Module>>() {
        let longest = (1..=inside.len()).rev().find_map(|end| files.get_key_value(&inside[..end]));
        named.extend(longest.map(|(target, _)| target).filter(|target| *target != module));
    }
    named
}
