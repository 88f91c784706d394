#compdef platewright
# Completion of platewright in zsh: the program itself says what may come next.
local -a offers
local word about
while IFS=$'\t' read -r word about; do
    offers+=("${word//:/\\:}:$about")
done < <(platewright complete -- "${(@Q)words[2,CURRENT]}" 2>/dev/null)
(( $#offers )) && _describe -t values platewright offers || _files
