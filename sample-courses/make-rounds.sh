#!/usr/bin/env bash
# Makes the sample rounds anew with the program itself: one in progress, one finished. Run after a change of a notebook:
#   sample-courses/make-rounds.sh target/debug/marram
set -euo pipefail
program=$(realpath "${1:-target/debug/marram}")
cd "$(dirname "$0")"
export MARRAM_FOLDER=.
rm -rf rounds
finished=$("$program" new round --course corvane.yaml --player players/ines-calder.yaml players/wren-hallam.yaml --tee Forward Club --day days/2026-05-16-corvane.yaml --kind for-handicap 2>/dev/null)
"$program" card "$finished" --scores "6 4 7 6 6 3 6 7 5 6 7 4 6 8 6 4 6 7" --player "Ines Calder" >/dev/null
"$program" card "$finished" --scores "5 3 6 6 5 3 5 6 5 5 5 4 5 7 x 3 5 6" --player "Wren Hallam" --close >/dev/null
going=$("$program" new round --course tarnholt.yaml --player players/callum-reive.yaml --holes "twice round" 2>/dev/null)
"$program" card "$going" --scores "4 3 5 4 4 4 3" >/dev/null
rm -f rounds/*.lock
