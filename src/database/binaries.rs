//! Finds the machine's own PostgreSQL.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use super::error::DatabaseError;

/// Where packages put the server's programs when PATH does not hold them: each folder, then what its children end in.
const USUAL: [(&str, &str); 6] = [
    ("/usr/lib/postgresql", "bin"),
    ("/usr/libexec", ""),
    ("/usr", "bin"),
    ("/usr/local", "bin"),
    ("/opt/homebrew/opt", "bin"),
    ("/usr/local/opt", "bin"),
];

/// The folder of a PostgreSQL whose major version is `version`, or of the newest one.
pub fn find(version: Option<&str>, data_dir: &Path) -> Result<PathBuf, DatabaseError> {
    if let Some(folder) = std::env::var_os("PG_BIN").map(PathBuf::from) {
        return if is_complete(&folder) { Ok(folder) } else { Err(DatabaseError::PgBin(folder)) };
    }
    choose(candidates(std::env::var_os("PATH")), version, data_dir)
}

fn choose(mut found: Vec<PathBuf>, version: Option<&str>, data_dir: &Path) -> Result<PathBuf, DatabaseError> {
    if found.is_empty() {
        return Err(DatabaseError::NotFound);
    }
    let Some(version) = version else { return Ok(found.swap_remove(0)) };
    found
        .into_iter()
        .find(|folder| major_of(folder).as_deref() == Some(version))
        .ok_or_else(|| DatabaseError::Version { folder: data_dir.to_owned(), version: version.to_owned() })
}

fn candidates(path: Option<OsString>) -> Vec<PathBuf> {
    let from_path = path.iter().flat_map(std::env::split_paths).collect::<Vec<_>>();
    let mut usual: Vec<PathBuf> = USUAL
        .iter()
        .flat_map(|(above, inside)| {
            let children = fs::read_dir(above).into_iter().flatten().flatten();
            children.map(move |child| child.path().join(inside)).filter(|folder| {
                let name = folder.to_string_lossy();
                name.contains("postgresql") || name.contains("pgsql")
            })
        })
        .collect();
    usual.sort_by_key(|folder| std::cmp::Reverse(version_in(folder)));
    // A link into /usr/local/bin is followed to where the server finds the rest of itself.
    let resolve = |folder: &PathBuf| folder.join("postgres").canonicalize().ok()?.parent().map(Path::to_owned);
    let mut found: Vec<PathBuf> = Vec::new();
    for folder in from_path.iter().chain(&usual).filter_map(resolve).filter(|folder| is_complete(folder)) {
        if !found.contains(&folder) {
            found.push(folder);
        }
    }
    found
}

/// The number in a path such as /usr/lib/postgresql/15/bin, so that 15 comes before 9.
fn version_in(folder: &Path) -> u32 {
    let digits = folder.to_string_lossy().chars().filter(char::is_ascii_digit).collect::<String>();
    digits.parse().unwrap_or(0)
}

fn is_complete(folder: &Path) -> bool {
    ["initdb", "postgres"].iter().all(|program| folder.join(program).is_file())
}

fn major_of(folder: &Path) -> Option<String> {
    let said = Command::new(folder.join("postgres")).arg("--version").output().ok()?;
    // "postgres (PostgreSQL) 15.9 (Debian ...)"
    let said = String::from_utf8(said.stdout).ok()?;
    let number = said.split_whitespace().find(|word| word.starts_with(|c: char| c.is_ascii_digit()))?;
    Some(number.split(|c: char| !c.is_ascii_digit()).next()?.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::os::unix::fs::PermissionsExt;

    fn fake(folder: &Path, version: &str) -> PathBuf {
        fs::create_dir_all(folder).unwrap();
        for program in ["initdb", "postgres"] {
            let script = format!("#!/bin/sh\necho 'postgres (PostgreSQL) {version}'\n");
            fs::write(folder.join(program), script).unwrap();
            fs::set_permissions(folder.join(program), fs::Permissions::from_mode(0o755)).unwrap();
        }
        folder.to_owned()
    }

    #[test]
    fn a_data_folder_gets_the_version_that_made_it_or_a_sentence() {
        let root = tempfile::tempdir().unwrap();
        let old = fake(&root.path().join("old"), "14.2");
        let new = fake(&root.path().join("new"), "16beta1");
        let found = vec![old.clone(), new.clone()];
        assert_eq!(choose(found.clone(), None, root.path()).unwrap(), old);
        assert_eq!(choose(found.clone(), Some("16"), root.path()).unwrap(), new);
        assert!(matches!(choose(found, Some("15"), root.path()), Err(DatabaseError::Version { .. })));
        assert!(matches!(choose(Vec::new(), None, root.path()), Err(DatabaseError::NotFound)));
    }

    #[test]
    fn what_is_on_the_path_comes_first() {
        let root = tempfile::tempdir().unwrap();
        let folder = fake(&root.path().join("bin"), "15.1").canonicalize().unwrap();
        assert_eq!(candidates(Some(folder.clone().into_os_string()))[0], folder);
    }
}
