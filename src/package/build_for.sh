#!/bin/sh
# Makes the Debian package for another release, within that release, and tries it in a bare one:
#   sh src/package/build_for.sh RELEASE FOLDER
# (as root). FOLDER/system, made by debootstrap, holds a copy of the sources and what building needs, and is used again
# when it is there; the package comes to lie in FOLDER. The first time takes as long as a whole build; how many
# compilers run at once says $CMAKE_BUILD_PARALLEL_LEVEL (1).
set -eu
release=$1
folder=$2
here=$(cd "$(dirname "$0")" && pwd)
source=$(cd "$here/../.." && pwd)
. "$here/bare_system.sh"
export DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8
export CMAKE_BUILD_PARALLEL_LEVEL="${CMAKE_BUILD_PARALLEL_LEVEL-1}"

mkdir -p "$folder"
folder=$(cd "$folder" && pwd)
system=$folder/system
[ -d "$system/source" ] || make_bare "$system" "$release"
lead_to_mirror "$system"
# What is under version control, as it stands now; what was built there stays, and only what changed is built anew.
(cd "$source" && git ls-files -z | tar --null -T - -cf -) | {
    mkdir -p "$system/source"
    find "$system/source" -mindepth 1 -maxdepth 1 ! -name build -exec rm -rf {} +
    tar -C "$system/source" -xf -
}
rm -f "$folder"/platewright_*.deb "$system"/source/build/platewright_*.deb
# As in any build of a package: /proc is there, the compiler is the release's own.
unshare --mount sh -eu -c 'mount -t proc proc "$0/proc"
    cd "$0" && exec chroot . sh /source/third_party/setup deb' "$system" 2>&1 | tee "$folder/build.log"
cp "$system"/source/build/platewright_*.deb "$folder/"
package=$(ls "$folder"/platewright_*.deb)
sh "$here/try_bare.sh" "$package" "$folder/bare" "$release"
echo "The package for $release: $package"
