#!/usr/bin/env bash
# Instructions of one run, from the repository's root: bash benches/instructions.sh
# They do not sway with the machine, as times do. What it counts is everything under the library's
# `run`, over a hundred runs of the benchmark `one_coarse_run`.
set -euo pipefail

if ! command -v valgrind >/dev/null; then
    echo "instructions not counted, missing: valgrind"
    exit 0
fi
cargo build --release --bench run 2>/dev/null
bench=$(cargo build --release --bench run --message-format json 2>/dev/null |
    sed -n 's/.*"executable":"\([^"]*\/run-[^"]*\)".*/\1/p' | tail -1)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
runs=100
for demo in fern-pin moon-dial sundial; do
    collected=$(valgrind --tool=callgrind --collect-atstart=no --toggle-collect='restbite::run::simulate::run' \
        --callgrind-out-file="$work/out" "$bench" --bench --exact "run::one_coarse_run::$demo" \
        --sample-count $runs --sample-size 1 2>&1 | sed -n 's/.*Collected : \([0-9]*\).*/\1/p')
    printf '%-10s %8d instructions a run\n' "$demo" $((collected / runs))
done
