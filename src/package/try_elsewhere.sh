#!/bin/sh
# Unpacks the archive in a bare system of another Debian release, without a package of ours, and runs the demo there
# without network: sh src/package/try_elsewhere.sh ARCHIVE.tar.xz FOLDER [RELEASE]
# FOLDER is made by debootstrap (as root); a minute or two. Removed again when all went well.
set -eu
archive=$1
bare=$2
release=${3-trixie}
. "$(dirname "$0")/bare_system.sh"
export LC_ALL=C.UTF-8
make_bare "$bare" "$release"
tar -C "$bare/opt" -xf "$archive"
chroot "$bare" useradd --create-home maker
chroot "$bare" sh -c 'mv /opt/platewright-* /opt/platewright; ldd --version | head -n 1; dpkg-query -W | wc -l'
unshare --net --mount sh -eu -c 'mount -t proc proc "$0/proc"
    chroot "$0" su maker -c "set -e; cd; PATH=/opt/platewright/bin:\$PATH
        platewright --version
        platewright demo --terminal
        ledger=\"\$HOME/Platewright demo (invented)\"
        platewright check --ledger \"\$ledger\"
        platewright sheet \"Wren back\" --ledger \"\$ledger\" --to sheet.pdf
        platewright record Wren --ledger \"\$ledger\" --to wren.html
        platewright listen --inputs || test \$? -eq 4
        ls -l demo-drift.png sheet.pdf wren.html"' "$bare"
cp "$bare/home/maker/demo-drift.png" "$bare.png"
rm -rf "$bare" "$bare.log"
