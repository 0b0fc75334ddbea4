# Shared by sample_data/run and tests/run: installing what is missing, building, and keeping quiet.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
preset=${TAREWELL_PRESET:-release}
build="$top/.build/$preset"
logs="$top/.build/logs"
mkdir -p "$logs"

as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }

# quietly NAME COMMAND...: shows the command's output only when it fails.
quietly() {
    local name=$1
    shift
    if ! "$@" >"$logs/$name.log" 2>&1; then
        echo "$name failed; the end of $logs/$name.log:" >&2
        tail -n 40 "$logs/$name.log" >&2
        return 1
    fi
}

# need_packages build [test]: installs those of .setup/packages that are missing.
need_packages() {
    local wanted missing=() name
    for wanted in "$@"; do
        while read -r name; do
            dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q 'ok installed' || missing+=("$name")
        done < <(sed -n "s/^$wanted //p" "$top/.setup/packages")
    done
    [ ${#missing[@]} -eq 0 ] && return 0
    quietly apt-update as_root apt-get update
    quietly apt-install as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "${missing[@]}"
}

# build_target TARGET...: configures once, then builds.
build_target() {
    [ -f "$build/build.ninja" ] || quietly configure cmake -S "$top" --preset "$preset"
    quietly build cmake --build "$build" --target "$@"
}
