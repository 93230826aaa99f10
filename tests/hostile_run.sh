#!/usr/bin/env bash
# Tries on a service of its own, on loopback, what a hostile stranger would, and prints what it cost meanwhile. Takes some
# minutes; `CARGO_PROFILE=release bash tests/hostile_run.sh` measures the service as it is installed.
set -euo pipefail
cd "$(dirname "$0")/.."
profile=()
if [ "${CARGO_PROFILE:-dev}" != dev ]; then profile=(--profile "$CARGO_PROFILE"); fi
exec cargo test "${profile[@]}" --test hostile -- --ignored --nocapture hostile_run
