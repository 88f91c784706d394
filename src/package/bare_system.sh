# Sourced: `make_bare FOLDER RELEASE` makes a bare system by debootstrap (as root; a minute or two) from this machine's own
# mirror; what it says is in FOLDER.log. `lead_to_mirror FOLDER` lets apt in there go the way to the mirror that this machine's goes.
mirror=$(cat /etc/apt/sources.list /etc/apt/sources.list.d/* 2>/dev/null |
    grep -ohE '(https?|file)://[^ ]*/debian/?( |$)' | head -n 1 | tr -d ' ')
make_bare() {
    rm -rf "$1"
    mkdir -p "$1"
    echo "A bare $2 in $1 …"
    debootstrap --variant=minbase "$2" "$1" "$mirror" >"$1.log" 2>&1 || {
        tail -n 5 "$1.log" >&2
        exit 1
    }
}
lead_to_mirror() {
    apt-config dump | grep -E '^Acquire::(http|https|Check)' >"$1/etc/apt/apt.conf.d/99way" || true
}
