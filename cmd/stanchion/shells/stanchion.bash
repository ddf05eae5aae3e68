# bash completion for stanchion, for bash 4.3 and later. Nothing that is typed is run: words are read here, as bash reads them.

# __stanchion_words sets words to those before the cursor, unquoted, and quote to the quote that is still open.
__stanchion_words()
{
    local line=$1 c i name word="" begun="" state=""
    words=() quote=""
    for ((i = 0; i < ${#line}; i++)); do
        c=${line:i:1}
        case "$state$c" in
            \"\" | \'\') state="" ;;
            \'?*) word+=$c ;;
            \"\\ | \\)
                i=$((i + 1))
                [[ $state && ${line:i:1} != [\"\\\`\$] ]] && word+=\\
                word+=${line:i:1} begun=1 ;;
            \"\$ | \$)
                name=${line:i+1}
                name=${name#\{}
                name=${name%%[!a-zA-Z0-9_]*}
                if [[ $name == [a-zA-Z_]* ]]; then
                    word+=${!name} begun=1 i=$((i + ${#name}))
                    [[ ${line:i-${#name}+1:1} == \{ ]] && i=$((i + 2))
                else
                    word+=\$ begun=1
                fi ;;
            \"?*) word+=$c ;;
            \" | \') state=$c begun=1 ;;
            " " | $'\t')
                [[ $begun ]] && words+=("$word")
                word="" begun="" ;;
            ";" | "|" | "&" | "(" | $'\n') words=() word="" begun="" ;;
            "~")
                if [[ ! $begun && ${line:i+1:1} == [/\ ] ]]; then word=$HOME; else word+=$c; fi
                begun=1 ;;
            *) word+=$c begun=1 ;;
        esac
    done
    words+=("$word")
    quote=$state
}

# __stanchion_spelt sets spelt to text as it must stand in the quote that is open.
__stanchion_spelt()
{
    case $quote in
        \") spelt=${1//\\/\\\\} spelt=${spelt//\"/\\\"} spelt=${spelt//\$/\\\$} spelt=${spelt//\`/\\\`} ;;
        \') spelt=${1//\'/\'\\\'\'} ;;
        *) if [[ $1 ]]; then printf -v spelt %q "$1"; else spelt=""; fi ;;
    esac
}

__start_stanchion()
{
    local -a words lines is beside
    local quote spelt line program typed common out directive i n width=0 begun=$2
    COMPREPLY=()
    __stanchion_words "${COMP_LINE:0:COMP_POINT}"
    while [[ ${#words[@]} -gt 1 && ${words[0]} == *=* ]]; do words=("${words[@]:1}"); done
    n=$((${#words[@]} - 1))
    ((n > 0)) || return
    typed=${words[n]} program=${words[0]}
    type -P -- "$program" >/dev/null || program=stanchion
    out=$("$program" __complete "${words[@]:1}" 2>/dev/null) || return
    mapfile -t lines <<<"$out"
    directive=${lines[-1]#:}
    unset 'lines[-1]'
    [[ $typed == --*=* ]] && typed=${typed#*=}
    # Bash takes a word to begin behind : and =, and behind a quote that is open.
    [[ $begun == [\"\']* ]] && begun=${begun:1}
    [[ $begun == "=" ]] && begun=""
    for line in "${lines[@]}"; do
        i=${line%%$'\t'*}
        [[ $i == "$typed"* ]] || continue
        is+=("${i#"$typed"}")
        if [[ $line == *$'\t'* ]]; then beside+=("${line#*$'\t'}"); else beside+=(""); fi
        ((${#i} > width)) && width=${#i}
    done
    if ((${#is[@]} == 0)); then
        (((directive & 4) == 0)) && compopt -o default 2>/dev/null
        return
    fi
    (((directive & 2) != 0)) && compopt -o nospace 2>/dev/null
    (((directive & 32) != 0)) && compopt -o nosort 2>/dev/null
    # What all have in common is put in spelt for the shell; where there is nothing, the list has the names as they are.
    common=${is[0]}
    for i in "${is[@]}"; do
        while [[ $i != "$common"* ]]; do common=${common%?}; done
    done
    for i in "${!is[@]}"; do
        if [[ ${#is[@]} -eq 1 || $COMP_TYPE == 37 || $COMP_TYPE == 42 || $common ]]; then
            __stanchion_spelt "${is[i]}"
        else
            spelt=${is[i]}
        fi
        if [[ ${#is[@]} -gt 1 && $COMP_TYPE != 37 && $COMP_TYPE != 42 && ${beside[i]} ]]; then
            printf -v line "%-*s  (%s)" $((width - ${#typed})) "$spelt" "${beside[i]}"
            n=$((${COLUMNS:-80} - ${#begun} - 2))
            ((n > 20 && ${#line} > n)) && line="${line:0:n-2}…)"
            spelt=$line
        fi
        COMPREPLY+=("$begun$spelt")
    done
}

complete -F __start_stanchion stanchion
