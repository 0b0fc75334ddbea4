#include "manual.hpp"

#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

/// "{lb,kg}" or "TEXT:{lb,kg}" as words; none where anything is taken.
std::vector<std::string> words_taken(const std::string& takes) {
    std::vector<std::string> words;
    const auto open = takes.find('{'), close = takes.find('}');
    if (open == std::string::npos || close == std::string::npos) return words;
    for (std::size_t at = open + 1; at < close;) {
        const auto end = std::min(takes.find(',', at), close);
        words.push_back(takes.substr(at, end - at));
        at = end + 1;
    }
    return words;
}

/// What may follow a command's path: the commands below it, its options, and the words that its arguments take.
std::vector<std::string> followers(const described_command& of) {
    std::vector<std::string> words;
    for (const auto& each : of.below)
        words.push_back(each.name);
    for (const auto& each : of.options) {
        if (each.name.starts_with("--"))
            words.push_back(each.name);
        else
            for (auto& word : words_taken(each.takes))
                words.push_back(std::move(word));
    }
    words.emplace_back("--help");
    return words;
}

template <class Do>
void for_each_command(const std::vector<described_command>& all, const std::string& before, Do what) {
    for (const auto& each : all) {
        const auto path = before.empty() ? each.name : before + " " + each.name;
        what(path, each);
        for_each_command(each.below, path, what);
    }
}

/// A shell's case lines: PATH) words='...' ;;
void write_cases(const std::vector<described_command>& commands, std::ostream& out) {
    described_command root{
        "", "", "", {{"--ledger", "", "TEXT", "", false}, {"--who", "", "TEXT", "", false}}, commands};
    out << fmt::format("        '') words='{}' ;;\n", fmt::join(followers(root), " "));
    for_each_command(commands, {}, [&](const std::string& path, const described_command& each) {
        out << fmt::format("        '{}') words='{}' ;;\n", path, fmt::join(followers(each), " "));
    });
}

void write_option_words(const std::vector<described_command>& commands, std::ostream& out) {
    for_each_command(commands, {}, [&](const std::string& path, const described_command& each) {
        for (const auto& option : each.options)
            if (const auto words = words_taken(option.takes); !words.empty() && option.name.starts_with("--"))
                out << fmt::format("        '{} {}') words='{}'; return ;;\n", path, option.name,
                                   fmt::join(words, " "));
    });
}

/// The path of commands typed so far: each word that is a command below the one before it.
constexpr const char* find_path = R"(    local path='' word
    for word in "${typed[@]}"; do
        case " $(_tarewell_words "$path") " in
            *" $word "*) case $word in -*) ;; *) path=${path:+$path }$word ;; esac ;;
        esac
    done
)";

void write_word_functions(const std::vector<described_command>& commands, std::ostream& out) {
    out << "_tarewell_words() {\n    local words=''\n    case $1 in\n";
    write_cases(commands, out);
    out << "    esac\n    printf '%s' \"$words\"\n}\n\n_tarewell_values() {\n    words=''\n    case $1 in\n";
    write_option_words(commands, out);
    out << "    esac\n}\n\n";
}

} // namespace

void write_bash_completion(const std::vector<described_command>& commands, std::ostream& out) {
    out << "# bash completion of tarewell, written by `tarewell reference bash`\n\n";
    write_word_functions(commands, out);
    out << "_tarewell() {\n    local typed=(\"${COMP_WORDS[@]:1:COMP_CWORD-1}\") words=''\n"
        << find_path << R"(    _tarewell_values "$path ${COMP_WORDS[COMP_CWORD-1]}"
    [ -n "$words" ] || words=$(_tarewell_words "$path")
    COMPREPLY=($(compgen -W "$words" -- "${COMP_WORDS[COMP_CWORD]}"))
}
complete -o default -F _tarewell tarewell
)";
}

void write_zsh_completion(const std::vector<described_command>& commands, std::ostream& out) {
    out << "#compdef tarewell\n# zsh completion of tarewell, written by `tarewell reference zsh`\n\n";
    write_word_functions(commands, out);
    out << "_tarewell() {\n    local -a typed\n    typed=(${words[2,CURRENT-1]})\n    local "
           "before=${words[CURRENT-1]}\n"
        << find_path << R"(    local words=''
    _tarewell_values "$path $before"
    [ -n "$words" ] || words=$(_tarewell_words "$path")
    compadd -- ${=words}
    _files
}
_tarewell "$@"
)";
}

void write_fish_completion(const std::vector<described_command>& commands, std::ostream& out) {
    const auto quoted = [](std::string_view text) {
        std::string made;
        for (const char c : text)
            made += c == '\'' || c == '\\' ? std::string{'\\', c} : std::string{c};
        return made;
    };
    out << R"(# fish completion of tarewell, written by `tarewell reference fish`

# True when the words typed, options apart, are just those given.
function __tarewell_after
    set -l typed
    for word in (commandline -opc)[2..]
        string match -q -- '-*' $word; or set -a typed $word
    end
    test "$typed" = "$argv"
end

)";
    for (const auto& each : commands)
        out << fmt::format("complete -c tarewell -n '__tarewell_after' -f -a {} -d '{}'\n", each.name,
                           quoted(each.what));
    for_each_command(commands, {}, [&](const std::string& path, const described_command& each) {
        for (const auto& below : each.below)
            out << fmt::format("complete -c tarewell -n '__tarewell_after {}' -f -a {} -d '{}'\n", path, below.name,
                               quoted(below.what));
        for (const auto& option : each.options) {
            if (!option.name.starts_with("--")) continue;
            const auto words = words_taken(option.takes);
            out << fmt::format(
                "complete -c tarewell -n '__fish_seen_subcommand_from {}' -l {}{}{} -d '{}'\n",
                path.substr(path.rfind(' ') + 1), option.name.substr(2), option.takes.empty() ? "" : " -r",
                words.empty() ? "" : fmt::format(" -f -a '{}'", fmt::join(words, " ")), quoted(option.what));
        }
    });
}

} // namespace tarewell::cli
