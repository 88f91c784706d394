# Completion of platewright in fish: the program itself says what may come next.
function __platewright_offers
    set -l words (commandline -opc) (commandline -ct)
    platewright complete -- $words[2..-1] 2>/dev/null
end
complete -c platewright -a '(__platewright_offers)'
