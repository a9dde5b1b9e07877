#!/usr/bin/env bash
# Judge a folder of designs in a shop's CI. Environment: DESIGNS, SINCE, STAGE, REPORTS (see action.yml);
# GITHUB_STEP_SUMMARY and GITHUB_OUTPUT are written to where the CI sets them. PLUMBLINE is the program, found in the
# path otherwise.
#
# Exit code: 0 nothing blocks, 1 a finding blocks, 2 a design or setting is wrong, 3 a pack is wrong or the program failed.
set -uo pipefail
plumbline=${PLUMBLINE:-plumbline}
designs=${DESIGNS:-designs}
reports=${REPORTS:-plumbline-reports}
command -v "$plumbline" >/dev/null || { echo "the program $plumbline is not there; install it or set PLUMBLINE" >&2; exit 3; }
mkdir -p "$reports" || exit 3

flags=()
[ -z "${STAGE:-}" ] || flags+=(--stage "$STAGE")
since=()
if [ -n "${SINCE:-}" ]; then
  if [ -f "$SINCE" ]; then
    since=(--since "$SINCE")
  else
    echo "there is no report $SINCE yet: everything counts as new"
  fi
fi

# The shop's own packs first: a pack that is wrong makes every verdict worthless.
if [ -f plumbline.yaml ]; then
  "$plumbline" pack check --summary || exit
fi

# The whole report, for the next run's SINCE; its exit code counts old findings and is not looked at. It takes its
# place last: SINCE may name the one of the run before.
rm -f "$reports/report.sarif" "$reports/summary.md"
"$plumbline" check --format json --output "$reports/report.new" ${flags[@]+"${flags[@]}"} "$designs" >/dev/null 2>&1

"$plumbline" check --format sarif --output "$reports/report.sarif" ${flags[@]+"${flags[@]}"} ${since[@]+"${since[@]}"} "$designs" >/dev/null 2>&1
"$plumbline" check --format markdown --output "$reports/summary.md" ${flags[@]+"${flags[@]}"} ${since[@]+"${since[@]}"} "$designs" >/dev/null 2>&1
"$plumbline" check --format text --output "" --color never ${flags[@]+"${flags[@]}"} ${since[@]+"${since[@]}"} "$designs"
code=$?
[ ! -f "$reports/report.new" ] || mv -f "$reports/report.new" "$reports/report.json" || exit 3

if [ -n "${GITHUB_STEP_SUMMARY:-}" ] && [ -f "$reports/summary.md" ]; then
  cat "$reports/summary.md" >>"$GITHUB_STEP_SUMMARY"
fi
if [ -n "${GITHUB_OUTPUT:-}" ]; then
  { echo "sarif=$reports/report.sarif"; echo "json=$reports/report.json"; } >>"$GITHUB_OUTPUT"
fi
exit "$code"
