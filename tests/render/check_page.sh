#!/bin/sh
# Holds the shipped pages of the sample season against an HTML validator and an accessibility checker.
# check_page.sh [PROGRAM [FOLDER]]: PROGRAM is the built tarewell (or TAREWELL names it); the pages are kept in FOLDER if given.
# Needs npm and chromium (apt-get install chromium npm); without them it says so and exits 77 (skipped).
# Exit 0: no errors; 1: errors, each with its place.
set -eu
program=$(realpath "${1:-$TAREWELL}")
here=$(dirname "$(realpath "$0")")
season=$(realpath "$here/../../sample_data/season")
browser=$(command -v chromium || command -v chromium-browser || true)
if [ -z "$browser" ] || ! command -v npm >/dev/null; then
    echo "check_page: skipped; chromium and npm are needed"
    exit 77
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
pages=${2:-$work/pages}
mkdir -p "$pages"
pages=$(realpath "$pages")
cp "$here/package.json" "$here/check_page.mjs" "$work/"
cd "$work"
if ! npm install --silent --no-audit --no-fund --ignore-scripts >npm.log 2>&1; then
    cat npm.log
    echo "check_page: skipped; the npm packages could not be installed"
    exit 77
fi

export TAREWELL_LEDGER="$work/sample.tarewell" TAREWELL_WHO="page check"
"$program" new "$TAREWELL_LEDGER" >/dev/null
"$program" intake season "$season" >/dev/null
for form in quarter_page certification auditor_tieout cost_lines; do
    "$program" report "$form" 2026-Q3 "$pages/$form.html" >/dev/null
done
"$program" report site_thanks 2026-Q3 "$pages/site_thanks.html" --site S01 >/dev/null
"$program" report grower_statement 2026-Q3 "$pages/grower_statement.html" --grower G002 --names >/dev/null
sheets=$work/sheets # made for paper: no phone's width is tried on them
mkdir -p "$sheets"
for sheet in bale-tags check-in haul baler scale-log hours mileage rejection pick-up; do
    "$program" print "$sheet" "$sheets/$sheet.html" --on 2026-10-03 \
        $(case $sheet in rejection) echo --since 2026-08-01 ;; hours) echo --site S03 ;; esac) >/dev/null
done
"$program" print labels "$sheets/labels.html" --site S06 >/dev/null

# Long lines of a table's row are the data's; a page's own style stands in its head.
cat >.htmlvalidate.json <<'RULES'
{"extends": ["html-validate:recommended", "html-validate:a11y"], "rules": {"long-title": "off"}}
RULES
# A label's corner and a column's width in millimetres stand where they are used.
echo '{"rules": {"no-inline-style": "off"}}' >"$sheets/.htmlvalidate.json"
failed=0
if npx --no-install html-validate --config .htmlvalidate.json "$pages"/*.html "$sheets"/*.html >html.log 2>&1; then
    echo "html-validate: 0 errors in $(ls "$pages"/*.html "$sheets"/*.html | wc -l) pages"
else
    cat html.log
    failed=1
fi
node check_page.mjs "$browser" "$pages"/*.html || failed=1
WIDE_ALONE=1 node check_page.mjs "$browser" "$sheets"/*.html || failed=1
exit $failed
