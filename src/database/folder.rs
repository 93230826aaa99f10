//! The folders of a private cluster: who owns them, who may use them, and that nobody else does.

use std::fs::{self, DirBuilder, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, MetadataExt, OpenOptionsExt, PermissionsExt, chown};
use std::path::{Path, PathBuf};

use nix::fcntl::{Flock, FlockArg};
use nix::unistd::{Uid, User};

use super::error::DatabaseError;

/// A socket's path must fit `sockaddr_un` with its closing zero: 108 octets on Linux, 104 elsewhere.
const SOCKET_PATH_MAX: usize = if cfg!(target_os = "linux") { 107 } else { 103 };

/// The socket's name, set by PostgreSQL for port 5432, with the lock file's longer ending.
const SOCKET_NAME: &str = "/.s.PGSQL.5432.lock";

/// The user that PostgreSQL runs as. None: the one that we run as.
#[derive(Clone)]
pub struct Owner(Option<User>);

impl Owner {
    /// PostgreSQL refuses to run as root.
    pub fn find() -> Result<Self, DatabaseError> {
        if !Uid::effective().is_root() {
            return Ok(Self(None));
        }
        let by_name = |name| User::from_name(name).ok().flatten();
        by_name("postgres").or_else(|| by_name("nobody")).map(|user| Self(Some(user))).ok_or(DatabaseError::NoUser)
    }

    pub fn ids(&self) -> Option<(u32, u32)> {
        self.0.as_ref().map(|user| (user.uid.as_raw(), user.gid.as_raw()))
    }

    fn give(&self, path: &Path) -> io::Result<()> {
        let Some((uid, gid)) = self.ids() else { return Ok(()) };
        chown(path, Some(uid), Some(gid))
    }

    /// Whether this user may pass through every folder above and including this one.
    fn check_reach(&self, folder: &Path) -> Result<(), DatabaseError> {
        let Some(user) = &self.0 else { return Ok(()) };
        let (uid, gid) = (user.uid.as_raw(), user.gid.as_raw());
        for above in folder.ancestors() {
            let Ok(meta) = fs::metadata(above) else { continue };
            let shift = if meta.uid() == uid {
                6
            } else if meta.gid() == gid {
                3
            } else {
                0
            };
            if (meta.mode() >> shift) & 1 == 0 {
                return Err(DatabaseError::Traverse { folder: above.to_owned(), user: user.name.clone() });
            }
        }
        Ok(())
    }
}

/// Held by one service at a time.
pub type Lock = Flock<fs::File>;

/// `/var/lib/noonwater` for root, the data folder of the XDG base directories otherwise.
pub fn usual() -> Result<PathBuf, DatabaseError> {
    if Uid::effective().is_root() {
        return Ok(PathBuf::from("/var/lib/noonwater"));
    }
    let from = |name| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    from("XDG_DATA_HOME").or_else(|| from("HOME").map(|home| home.join(".local/share"))).map_or_else(
        || Err(DatabaseError::Folder { folder: "~".into(), why: "HOME is not set".to_owned() }),
        |data| Ok(data.join("noonwater")),
    )
}

/// What a data folder of ours holds; the first of them is made before all others.
const OURS: [&str; 6] = ["lock", "postgres", "postgres.new", "postgres.log", "postgres.log.1", "run"];

/// Makes the data folder and locks it. One that exists keeps its mode, and is taken only when it is empty or ours.
pub fn take(data_dir: &Path, owner: &Owner) -> Result<(PathBuf, Lock), DatabaseError> {
    let failed = |error: io::Error| DatabaseError::Folder { folder: data_dir.to_owned(), why: error.kind().to_string() };
    // Others may pass through to what is theirs, and list nothing.
    let mode = if owner.ids().is_some() { 0o711 } else { 0o700 };
    if let Some(above) = data_dir.parent() {
        DirBuilder::new().recursive(true).create(above).map_err(failed)?;
    }
    match DirBuilder::new().mode(mode).create(data_dir) {
        // The mode is set once more, since the process's mask may have taken some of it away.
        Ok(()) => fs::set_permissions(data_dir, Permissions::from_mode(mode)).map_err(failed)?,
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => check_ours(data_dir)?,
        Err(error) => return Err(failed(error)),
    }
    let data_dir = data_dir.canonicalize().map_err(failed)?;
    owner.check_reach(&data_dir)?;
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .mode(0o600)
        .open(data_dir.join("lock"))
        .map_err(failed)?;
    match Flock::lock(file, FlockArg::LockExclusiveNonblock) {
        Ok(lock) => Ok((data_dir, lock)),
        Err(_) => Err(DatabaseError::InUse(data_dir)),
    }
}

/// Refuses a folder that holds somebody else's files: ours would be lost among them, or they among ours.
fn check_ours(data_dir: &Path) -> Result<(), DatabaseError> {
    let failed = |error: io::Error| DatabaseError::Folder { folder: data_dir.to_owned(), why: error.kind().to_string() };
    let names = fs::read_dir(data_dir).map_err(failed)?.map(|entry| entry.map(|entry| entry.file_name()));
    let names = names.collect::<Result<Vec<_>, _>>().map_err(failed)?;
    // What a file system keeps for itself at the top of a disk.
    let is_nothing = |name: &std::ffi::OsString| name == "lost+found";
    let is_ours = names.iter().any(|name| name == OURS[0] || name == OURS[1]);
    let is_strange = |name: &&std::ffi::OsString| !is_nothing(name) && !OURS.iter().any(|ours| *name == *ours);
    match names.iter().find(is_strange) {
        Some(name) if !is_ours => {
            Err(DatabaseError::NotOurs { folder: data_dir.to_owned(), holds: name.to_string_lossy().into_owned() })
        }
        _ => Ok(()),
    }
}

/// A folder of the owner's own, closed to all others.
pub fn private(path: &Path, owner: &Owner) -> Result<(), DatabaseError> {
    let failed = |error: io::Error| DatabaseError::Folder { folder: path.to_owned(), why: error.kind().to_string() };
    match DirBuilder::new().mode(0o700).create(path) {
        Err(error) if error.kind() != io::ErrorKind::AlreadyExists => return Err(failed(error)),
        _ => {}
    }
    fs::set_permissions(path, Permissions::from_mode(0o700)).map_err(failed)?;
    owner.give(path).map_err(failed)
}

/// The folder of the socket: in the data folder, or one with a short path where that one's is too long.
pub fn socket_dir(data_dir: &Path, owner: &Owner) -> Result<PathBuf, DatabaseError> {
    let fits = |folder: &Path| folder.as_os_str().len() + SOCKET_NAME.len() <= SOCKET_PATH_MAX;
    let inside = data_dir.join("run");
    if fits(&inside) {
        private(&inside, owner)?;
        return Ok(inside);
    }
    let runtime = match owner.ids() {
        Some(_) => Some(PathBuf::from("/run")),
        None => std::env::var_os("XDG_RUNTIME_DIR").map(PathBuf::from),
    };
    // A new name each time: a folder that exists may be somebody else's, set up to be found.
    let name = format!("noonwater-{}", uuid::Uuid::now_v7().simple());
    for base in runtime.into_iter().chain([PathBuf::from("/tmp")]) {
        let folder = base.join(&name);
        let is_usable = fits(&folder) && owner.check_reach(&base).is_ok();
        if is_usable && DirBuilder::new().mode(0o700).create(&folder).is_ok() {
            private(&folder, owner)?;
            return Ok(folder);
        }
    }
    Err(DatabaseError::Folder { folder: data_dir.to_owned(), why: "its path is too long for a socket".to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mode_of(path: &Path) -> u32 {
        fs::metadata(path).unwrap().mode() & 0o7777
    }

    #[test]
    fn a_folder_that_exists_keeps_its_mode() {
        let root = tempfile::tempdir().unwrap();
        let shared = root.path().join("shared");
        fs::create_dir(&shared).unwrap();
        fs::set_permissions(&shared, Permissions::from_mode(0o1777)).unwrap();
        drop(take(&shared, &Owner(None)).unwrap());
        assert_eq!(mode_of(&shared), 0o1777);
        // Taken once, it is ours from then on.
        drop(take(&shared, &Owner(None)).unwrap());
    }

    #[test]
    fn a_folder_that_is_made_is_closed() {
        let root = tempfile::tempdir().unwrap();
        drop(take(&root.path().join("above/data"), &Owner(None)).unwrap());
        assert_eq!(mode_of(&root.path().join("above/data")), 0o700);
    }

    #[test]
    fn a_folder_with_somebody_else_s_files_is_refused_and_left_as_it_is() {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join("accounts.ods"), "theirs").unwrap();
        let refused = take(root.path(), &Owner(None)).map(|_| ()).unwrap_err();
        assert!(matches!(&refused, DatabaseError::NotOurs { holds, .. } if holds == "accounts.ods"), "{refused}");
        assert_eq!(fs::read_dir(root.path()).unwrap().count(), 1);
    }
}
