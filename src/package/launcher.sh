#!/bin/sh
# Starts the program of this archive. Libraries that graphics drivers and the sound system share with it are the
# system's own; those that it lacks are taken from lib/if-missing.
self=$0
while [ -h "$self" ]; do
    target=$(readlink "$self")
    case $target in
    /*) self=$target ;;
    *) self=$(dirname "$self")/$target ;;
    esac
done
root=$(cd "$(dirname "$self")/.." && pwd)
known=$(/sbin/ldconfig -p 2>/dev/null || ldconfig -p 2>/dev/null || true)
for folder in "$root"/lib/if-missing/*; do
    case $known in
    *"${folder##*/} "*) ;;
    *) LD_LIBRARY_PATH=${LD_LIBRARY_PATH:+$LD_LIBRARY_PATH:}$folder ;;
    esac
done
[ -n "${LD_LIBRARY_PATH-}" ] && export LD_LIBRARY_PATH
: "${FONTCONFIG_FILE=$root/share/platewright/fonts.conf}"
export FONTCONFIG_FILE
if [ ! -e /usr/share/alsa/alsa.conf ]; then
    ALSA_CONFIG_DIR=$root/share/alsa
    ALSA_CONFIG_PATH=$ALSA_CONFIG_DIR/alsa.conf
    export ALSA_CONFIG_DIR ALSA_CONFIG_PATH
fi
exec "$root/lib/platewright/platewright" "$@"
