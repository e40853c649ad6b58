#!/usr/bin/env bash
# Times one etching run by two general-purpose peers, from the repository's root: bash benches/peers/run.sh
# Builds nothing: it takes the release binary as it stands. restbite's own time for one run is
# `cargo bench one_run`; the row of it here is the whole process of a trace, reading and writing too.
set -euo pipefail

restbite=target/release/restbite
peers=benches/peers
circuits=tests/data/circuit

missing=()
if ! command -v python3 >/dev/null; then
    missing+=("python3 with SciPy")
elif ! python3 -c "import scipy.integrate" 2>/dev/null; then
    missing+=("SciPy for python3")
fi
command -v ngspice >/dev/null || missing+=("ngspice")
if ((${#missing[@]})); then
    list=$(printf ', %s' "${missing[@]}")
    echo "peers not timed, missing: ${list:2}"
    exit 0
fi
if [[ ! -x $restbite ]]; then
    echo "$restbite is not there: run this from the repository's root after cargo build --release" >&2
    exit 1
fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# Wall time of a command in ms, the least of three; what it prints stays in the file named first.
# Exit code 1 counts as done: restbite answers so when a limit of the job's own is broken.
least_ms() {
    local out=$1 best="" began took code
    shift
    for _ in 1 2 3; do
        began=${EPOCHREALTIME/./}
        code=0
        "$@" >"$out" 2>"$work/complaints" || code=$?
        took=$((${EPOCHREALTIME/./} - began))
        if ((code > 1)); then
            cat "$work/complaints" >&2
            return "$code"
        fi
        if [[ -z $best ]] || ((took < best)); then best=$took; fi
    done
    printf '%d.%03d' $((best / 1000)) $((best % 1000))
}

row() { printf '%-26s %-28s %18s %10s\n' "$@"; }

# The tool, the integrator and the circuit simulator on one job: its label, its name, its overrides.
job() {
    local label=$1 name=$2 ms seconds
    shift 2
    ms=$(least_ms "$work/$name.json" "$restbite" trace "data-demo/$name.toml" --json "$@")
    seconds=$(python3 -c 'import json, sys; print(json.load(open(sys.argv[1]))["run"]["time_s"])' "$work/$name.json")
    row "restbite, whole trace" "$label" "$(printf '%.6f' "$seconds")" "$(printf '%.1f' "$ms")"

    python3 "$peers/ode.py" "$work/$name.json" >"$work/$name.ode"
    seconds=$(sed -n 's/^time to depth, s: \([0-9.]*\).*/\1/p' "$work/$name.ode")
    ms=$(sed -n 's/^wall, ms: //p' "$work/$name.ode")
    row "SciPy $(sed -n 's/^method: //p' "$work/$name.ode"), rtol 1e-6" "$label" \
        "$(printf '%.6f' "$seconds")" "$(printf '%.2f' "$ms")"

    # In the temporary folder, since a netlist writes its table where it is run. Its longest step is
    # that of a reference good to a millionth, not one chosen for speed.
    cp "$circuits/$name.cir" "$work/"
    ms=$(cd "$work" && least_ms "$work/$name.log" ngspice -b "$name.cir")
    seconds=$(sed -n 's/^time_to_depth *= *\([0-9.e+]*\).*/\1/p' "$work/$name.log")
    row "ngspice -b, whole process" "$label" "$(printf '%.3f' "$seconds")" "$(printf '%.0f' "$ms")"
}

row peer job "time to depth, s" "wall, ms"
job "fern-pin" fern-pin
# The circuit stored for the dial is of a run off the current limit (see tests/data/circuit/README.md).
job "moon-dial, 0.9 V, 30 degC" moon-dial \
    --set 'source.voltage=0.9 V' --set 'source.current_limit=10 A' --set 'bath.temperature=30 degC'
