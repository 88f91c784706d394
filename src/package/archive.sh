#!/bin/sh
# One archive for other Linux systems, with the libraries beside the program: sh src/package/archive.sh BUILD OUT.tar.xz
# It runs where there are glibc 2.36 and GCC 12's libstdc++ or later (any desktop since 2022). Libraries that graphics
# drivers and sound systems share with us lie in lib/if-missing, one folder each, and are taken only where the system has
# none of that name; all others are ours alone, found by their place ($ORIGIN).
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$1
out=$2
version=$("$build/bin/platewright" --version | cut -d' ' -f2)
name=platewright-$version-linux-$(uname -m)
stage=$build/package/archive/$name
rm -rf "$build/package/archive"
cmake --install "$build" --prefix "$stage" --strip >/dev/null

# Those of the system, whatever it is.
system='^(ld-linux.*|libc|libm|libdl|libpthread|librt|libstdc\+\+|libgcc_s)\.so'
shared='^(libX[a-zA-Z0-9]+|libxcb.*|libGL.*|libOpenGL|libEGL|libasound|libjack|libexpat|libz|libzstd|libffi|libbsd|libmd|libdb-.*)\.so'
own=$stage/lib/platewright
missing=$stage/lib/if-missing
mkdir -p "$own" "$missing"
# GLFW and the widgets' library load OpenGL by name at run time; no list of needed libraries has it.
{
    ldd "$build/bin/platewright" | awk '$2 == "=>" && $3 ~ /^\// { print $1, $3 }'
    for extra in libGL.so.1 libGLX.so.0 libXrandr.so.2 libXinerama.so.1 libXcursor.so.1 libXi.so.6 libXfixes.so.3; do
        ldconfig -p | awk -v want="$extra" '$1 == want && /x86-64|aarch64/ { print $1, $NF; exit }'
    done
} | sort -u | while read -r soname file; do
    if echo "$soname" | grep -qE "$system"; then
        continue
    elif echo "$soname" | grep -qE "$shared"; then
        mkdir -p "$missing/$soname"
        cp -L "$file" "$missing/$soname/$soname"
    else
        cp -L "$file" "$own/$soname"
        patchelf --set-rpath '$ORIGIN' "$own/$soname"
    fi
done
chmod -R u+w,a+rX "$stage/lib"

mv "$stage/bin/platewright" "$own/platewright"
patchelf --set-rpath '$ORIGIN' "$own/platewright"
mkdir -p "$stage/share/platewright/fonts"
cp /usr/share/fonts/truetype/lato/Lato-Regular.ttf /usr/share/fonts/truetype/lato/Lato-Bold.ttf \
    "$stage/share/platewright/fonts/"
cp /usr/share/doc/fonts-lato/copyright "$stage/share/platewright/fonts/copyright"
cp "$here/fonts.conf" "$stage/share/platewright/fonts.conf"
# Without these ALSA's library ends a program that only asks what there is to hear.
mkdir -p "$stage/share/alsa"
cp -rL /usr/share/alsa/alsa.conf /usr/share/alsa/cards /usr/share/alsa/pcm "$stage/share/alsa/"
cp "$here/launcher.sh" "$stage/bin/platewright"
chmod 755 "$stage/bin/platewright"
cp "$here/../../LICENSE" "$stage/LICENSE"
# Whose the libraries are, as their own packages say it.
mkdir -p "$stage/share/doc/platewright/libraries"
for file in "$own"/*.so* "$missing"/*/*.so*; do
    package=$(dpkg-query -S "*/$(basename "$file")" 2>/dev/null | head -n 1 | cut -d: -f1)
    [ -n "$package" ] && cp -L "/usr/share/doc/$package/copyright" "$stage/share/doc/platewright/libraries/$package" 2>/dev/null || true
done

stamp=$(dpkg-parsechangelog -l "$build/package/named/changelog" -S Timestamp)
tar -C "$build/package/archive" --sort=name --mtime="@$stamp" --owner=0 --group=0 --numeric-owner -cf - "$name" |
    xz -T1 -6 >"$out.new"
mv "$out.new" "$out"
echo "$out: $(du -h "$out" | cut -f1), $(ls "$own" | wc -l) files of its own, $(ls "$missing" | wc -l) libraries for systems that lack them"
