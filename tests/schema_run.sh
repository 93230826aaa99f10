#!/usr/bin/env bash
# Holds the running service against what it says of itself at /openapi.json: requests made from the description, good ones
# and broken ones, by the general library schemathesis. Nothing may be a server error, and no answer may be one that the
# description does not have. Needs Python 3 with venv, and the built binary; brings the library at a fixed version into the
# target folder. The seed is fixed, so that the same requests are made each time.
#   tests/schema_run.sh [EXAMPLES]
set -euo pipefail
cd "$(dirname "$0")/.."

version=4.32.5
examples="${1:-100}"
target="${CARGO_TARGET_DIR:-$PWD/target}"
mkdir -p "$target"
target="$(cd "$target" && pwd)"
program="${NOONWATER:-$target/debug/noonwater}"
[ -x "$program" ] || { echo "No program at $program; run cargo build first." >&2; exit 2; }

tools="$target/schema-run/$version"
if [ ! -x "$tools/bin/schemathesis" ]; then
    python3 -m venv "$tools"
    "$tools/bin/pip" install --quiet --disable-pip-version-check "schemathesis==$version"
fi

work="$(mktemp -d)"
# PostgreSQL, which runs under a user of its own where root starts it, must reach its files.
chmod 711 "$work"
service=""
end() {
    [ -z "$service" ] || { kill "$service" 2>/dev/null || true; wait "$service" 2>/dev/null || true; }
    rm -rf "$work"
}
trap end EXIT

# Nothing of the caller's own configuration.
for name in $(compgen -e NOONWATER_) DATABASE_URL; do unset "$name"; done
export NOONWATER_DATA_DIR="$work/data" NOONWATER_LISTEN=127.0.0.1:0

# The lines' secret is the key for answers, so that one bearer opens every door.
key="$("$program" key add schema-run)"
cat > "$work/noonwater.toml" <<TOML
[limits]
messages_a_minute = 1000000
burst = 1000000
[lines.north]
kind = "http"
number = "+447700900100"
outbound_url = "http://127.0.0.1:9/out"
secret = "$key"
[lines.menu]
kind = "ussd"
number = "150"
secret = "$key"
sms_line = "north"
TOML
"$program" serve --config "$work/noonwater.toml" > "$work/out" 2> "$work/err" &
service=$!
url=""
for _ in $(seq 600); do
    url="$(sed -n 's|.*handset page: \(http://[^ ]*\)/handset$|\1|p' "$work/out")"
    [ -z "$url" ] || break
    kill -0 "$service" 2>/dev/null || { echo "The service did not start:" >&2; cat "$work/err" >&2; exit 1; }
    sleep 0.1
done
[ -n "$url" ] || { echo "The service did not say where it is." >&2; exit 1; }

# One object a line is no form that the library knows: it is written and read here, and checked as the array it stands for.
cat > "$work/lines.py" <<'PYTHON'
import json

import schemathesis


@schemathesis.serializer("application/x-ndjson")
def write(ctx, value):
    elements = value if isinstance(value, list) else [value]
    return "".join(json.dumps(element) + "\n" for element in elements).encode()


@schemathesis.deserializer("application/x-ndjson")
def read(ctx, response):
    return [json.loads(line) for line in response.content.decode().splitlines()]
PYTHON

# Where a line's name is asked for, mostly one that is there. What the description cannot say: which country's numbers are
# how long, so a well-formed request may be refused all the same; and a stream of answers has begun before its last element
# came, so what is wrong stands in the stream.
cat > "$work/schemathesis.toml" <<TOML
hooks = "$work/lines.py"
headers = { Authorization = "Bearer $key" }
[checks]
positive_data_acceptance.enabled = false
negative_data_rejection.expected-statuses = [400, 401, 404, 408, 413, 415, 422, 429]
[[operations]]
include-path-regex = "/lines/.*/(inbound|receipt)"
parameters = { line = "north" }
[[operations]]
include-path = "/lines/{line}/ussd"
parameters = { line = "menu" }
[[operations]]
include-path = "/api/answers"
checks = { negative_data_rejection = { enabled = false } }
TOML
# It keeps what it found beside itself: not in the tree.
cd "$work"
"$tools/bin/schemathesis" --config-file "$work/schemathesis.toml" run "$url/openapi.json" \
    --seed 8 --generation-database none --max-examples "$examples" \
    --phases examples,coverage,fuzzing --continue-on-failure --no-color || status=$?

kill -0 "$service" 2>/dev/null || { echo "The service ended during the run:" >&2; tail "$work/err" >&2; exit 1; }
if grep -q '"fault in the program"' "$work/err"; then
    echo "The service had a fault during the run:" >&2
    grep '"fault in the program"' "$work/err" >&2
    exit 1
fi
exit "${status:-0}"
