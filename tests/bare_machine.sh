#!/usr/bin/env bash
# The README's two commands on a machine that has nothing but Debian, a C compiler and Rust: in a folder made by debootstrap,
# as root and as an ordinary user, each from a fresh clone with an empty data folder.
#   tests/bare_machine.sh FOLDER [serve|test]...      (both without a word)
# Needs root, debootstrap, and the package registries. Leaves FOLDER as it became, to be looked at; takes about 12 GB there.
set -euo pipefail
cd "$(dirname "$0")/.."

[ "$(id -u)" = 0 ] || { echo "Only root may make another root; run it as root." >&2; exit 2; }
command -v debootstrap >/dev/null || { echo "No debootstrap here: apt-get install debootstrap" >&2; exit 2; }
[ $# -ge 1 ] || { echo "Name a folder that does not exist yet: tests/bare_machine.sh FOLDER" >&2; exit 2; }
bare="$1"
shift
what=("$@")
[ ${#what[@]} -gt 0 ] || what=(serve test)
[ ! -e "$bare" ] || { echo "$bare exists; name a folder that does not." >&2; exit 2; }

debootstrap --variant=minbase "${SUITE:-bookworm}" "$bare" >/dev/null
cp /etc/resolv.conf /etc/hosts "$bare/etc/"
mount --bind /proc "$bare/proc"
mount --bind /dev "$bare/dev"
end() { umount "$bare/proc" "$bare/dev" 2>/dev/null || true; }
trap end EXIT

in_bare() { chroot "$bare" env -i HOME="$home" USER="$user" PATH="/opt/rust/bin:/usr/sbin:/usr/bin:/sbin:/bin" "$@"; }
as_user() { home="/home/$user" in_bare runuser -u "$user" -- env PATH="/opt/rust/bin:/usr/sbin:/usr/bin:/sbin:/bin" "$@"; }

user=root home=/root
in_bare apt-get update >/dev/null
# What the README says that a bare Debian lacks, and git to clone with.
in_bare env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends gcc libc6-dev ca-certificates git >/dev/null
cp -r "$(rustc --print sysroot)" "$bare/opt/rust"
cp /etc/ssl/certs/ca-certificates.crt "$bare/etc/ssl/certs/ca-certificates.crt"
chroot "$bare" useradd -m grower

git clone --quiet "$PWD" "$bare/opt/noonwater"
failed=0
for user in root grower; do
    home=$([ "$user" = root ] && echo /root || echo /home/grower)
    cp -r "$bare/opt/noonwater" "$bare$home/noonwater"
    chroot "$bare" chown -R "$user" "$home/noonwater"
    for word in "${what[@]}"; do
        begun=$(date +%s)
        case "$word" in
            serve)
                script="cd ~/noonwater && cargo run --release -- serve --fetch-postgres > /tmp/$user.out 2> /tmp/$user.err & run=\$!
                        for _ in \$(seq 1800); do grep -q 'noonwater is ready' /tmp/$user.out 2>/dev/null && break; kill -0 \$run || exit 1; sleep 1; done
                        cat /tmp/$user.out; pkill -TERM -x noonwater; wait \$run"
                ;;
            test) script="cd ~/noonwater && bash .ci/test > /tmp/$user.test 2>&1; status=\$?; grep -E '^test result|passed|Missing|Give this' /tmp/$user.test | tail -40; exit \$status" ;;
        esac
        status=0
        if [ "$user" = root ]; then in_bare bash -c "$script" || status=$?; else as_user bash -c "$script" || status=$?; fi
        echo "$user $word: status $status, $(($(date +%s) - begun)) s"
        [ "$status" = 0 ] || failed=1
    done
    du -sh "$bare$home/noonwater/target" | sed "s/^/$user: target /"
done
exit "$failed"
