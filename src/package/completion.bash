# Completion of platewright in bash: the program itself says what may come next.
_platewright() {
    local current=${COMP_WORDS[COMP_CWORD]} line
    COMPREPLY=()
    while IFS=$'\t' read -r line _; do
        [[ ${line,,} == "${current,,}"* ]] && COMPREPLY+=("$(printf %q "$line")")
    done < <(platewright complete -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -o bashdefault -o default -F _platewright platewright
