//! Installs PostgreSQL by the system's own package manager, saying what is run.

use std::path::Path;
use std::process::Stdio;

use nix::unistd::Uid;
use tokio::process::Command;

use super::error::DatabaseError;

/// A package manager, and its commands in order.
const MANAGERS: [(&str, &[&str]); 7] = [
    (
        "apt-get",
        &[
            "apt-get update",
            "apt-get install -y --no-install-recommends postgresql-common",
            // Debian's package would make and start a cluster of the system's own beside ours, on port 5432.
            "sed -ri s/^#?create_main_cluster.*/create_main_cluster=false/ /etc/postgresql-common/createcluster.conf",
            "apt-get install -y --no-install-recommends postgresql",
        ],
    ),
    ("dnf", &["dnf install -y postgresql-server"]),
    ("yum", &["yum install -y postgresql-server"]),
    ("apk", &["apk add postgresql"]),
    ("zypper", &["zypper --non-interactive install postgresql-server"]),
    ("pacman", &["pacman -Sy --noconfirm postgresql"]),
    ("brew", &["brew install postgresql"]),
];

/// Installs it, as root or by `sudo` where that asks no password.
pub async fn install() -> Result<(), DatabaseError> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders: Vec<_> = std::env::split_paths(&path).collect();
    let has = |program: &str| folders.iter().any(|folder| folder.join(program).is_file());
    let commands = commands(has).ok_or(DatabaseError::NoPackageManager)?;
    let needs_root = !commands[0].starts_with("brew");
    let prefix = if !needs_root || Uid::effective().is_root() {
        ""
    } else if has("sudo") && run("sudo -n true", Stdio::null).await {
        "sudo -n "
    } else {
        let by_hand = commands.iter().map(|command| format!("sudo {command}")).collect::<Vec<_>>();
        return Err(DatabaseError::Fetch(by_hand.join(" && ")));
    };
    for command in commands {
        let command = format!("{prefix}{command}");
        eprintln!("noonwater: no PostgreSQL on this machine, running: {command}");
        // What the package manager says goes to standard error: standard output is for what the service says.
        let to_stderr = || Stdio::from(std::io::stderr());
        if !run(&command, to_stderr).await {
            return Err(DatabaseError::Fetch(command));
        }
    }
    Ok(())
}

fn commands(has: impl Fn(&str) -> bool) -> Option<&'static [&'static str]> {
    MANAGERS.iter().find(|(program, _)| has(program)).map(|(_, commands)| *commands)
}

async fn run(command: &str, output: impl Fn() -> Stdio) -> bool {
    let mut words = command.split(' ');
    let Some(program) = words.next() else { return false };
    let status = Command::new(program)
        .args(words)
        .env("DEBIAN_FRONTEND", "noninteractive")
        .current_dir(Path::new("/"))
        .stdin(Stdio::null())
        .stdout(output())
        .stderr(output())
        .status()
        .await;
    status.is_ok_and(|status| status.success())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_machine_s_own_manager_is_used() {
        assert_eq!(commands(|program| program == "apk"), Some(&["apk add postgresql"][..]));
        let debian = commands(|program| program == "apt-get").unwrap();
        let (first, last) = (debian[0], debian[debian.len() - 1]);
        assert!(first == "apt-get update" && last.ends_with(" postgresql"));
        assert_eq!(commands(|_| false), None);
    }
}
