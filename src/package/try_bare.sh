#!/bin/sh
# Installs the package in a bare system of the Debian release that it was made for (this machine's own unless said) and
# runs the demo there, without sources, Python or network: sh src/package/try_bare.sh PACKAGE.deb FOLDER [RELEASE]
# FOLDER is made by debootstrap (as root); a minute or two. Removed again when all went well.
set -eu
package=$1
bare=$2
release=${3-$(. /etc/os-release && echo "$VERSION_CODENAME")}
. "$(dirname "$0")/bare_system.sh"
export DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8

make_bare "$bare" "$release"
lead_to_mirror "$bare"
cp "$package" "$bare/tmp/platewright.deb"
chroot "$bare" apt-get update -qq >>"$bare.log" 2>&1
chroot "$bare" apt-get install -y --no-install-recommends /tmp/platewright.deb >>"$bare.log" 2>&1 || {
    tail -n 20 "$bare.log" >&2
    exit 1
}
chroot "$bare" useradd --create-home maker
if chroot "$bare" sh -c 'command -v python3' >/dev/null; then
    echo "the package brought Python along" >&2
    exit 1
fi
# No network: a namespace of its own without any interface; /proc goes with it.
unshare --net --mount sh -eu -c 'mount -t proc proc "$0/proc"
    chroot "$0" su maker -c "cd && platewright --version && platewright demo --terminal &&
        platewright check --ledger \"Platewright demo (invented)\" && ls -l demo-drift.png &&
        test -s /usr/share/doc/platewright/guide.md"' "$bare"
chroot "$bare" dpkg --verify platewright
rm -rf "$bare" "$bare.log"
