# fish completion for stanchion. Nothing that is typed is run.

# __stanchion_plain takes quotes and escapes away, also where a quote is still open.
function __stanchion_plain
    for close in '' "'" '"'
        string unescape -- "$argv[1]$close" 2>/dev/null; and return
    end
    echo -- "$argv[1]"
end

function __stanchion_complete
    set -l words (commandline -xpc 2>/dev/null)
    or set words (commandline -opc)
    set -l typed (__stanchion_plain (commandline -ct | string collect))
    set words (string replace -r '^~/' "$HOME/" -- $words)
    set -l program $words[1]
    command -q -- "$program"; or set program stanchion
    set -l home ''
    string match -q '~/*' -- "$typed"; and set home "$HOME/"
    set -l lines ($program __complete $words[2..-1] (string replace -r '^~/' "$HOME/" -- "$typed") 2>/dev/null)
    test (count $lines) -gt 0; or return
    set -l directive (string sub -s 2 -- $lines[-1])
    set -e lines[-1]
    if test (count $lines) -eq 0
        test (math "bitand($directive, 4)") -eq 0; and __fish_complete_path "$typed"
        return
    end
    set -l before (string match -r -- '^--[^=]*=' "$typed")
    for line in $lines
        if test -n "$home"; and string match -q "$home*" -- "$line"
            set line "~/"(string sub -s (math (string length -- "$home") + 1) -- "$line")
        end
        printf '%s\n' "$before$line"
    end
end

complete -c stanchion -e
complete -c stanchion -k -f -a '(__stanchion_complete)'
