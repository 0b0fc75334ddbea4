#include "intake/map_file.hpp"

#include "intake/format_check.hpp"
#include "intake/map_values.hpp"
#include "ledger/ledger.hpp"
#include "records/season.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::intake {
namespace {

using records::kind;

/// A value in quotes, "..." with \" and \\ or '...' as it stands; none where it is not closed, or more follows than a
/// comment.
std::optional<std::string> quoted_value(std::string_view text) {
    if (text.empty() || (text[0] != '"' && text[0] != '\'')) return std::nullopt;
    const char quote = text[0];
    std::string value;
    std::size_t i = 1;
    for (; i < text.size() && text[i] != quote; ++i) {
        if (quote == '"' && text[i] == '\\') {
            if (++i == text.size() || (text[i] != '"' && text[i] != '\\')) return std::nullopt;
        }
        value += text[i];
    }
    if (i >= text.size()) return std::nullopt;
    const auto rest = trimmed(text.substr(i + 1));
    return rest.empty() || rest.starts_with('#') ? std::optional{value} : std::nullopt;
}

std::string quoted_text(const std::string& text) {
    std::string made = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') made += '\\';
        made += c;
    }
    return made + '"';
}

/// The entry in force of each of a map's rules.
std::map<std::string, std::pair<records::entry_no, std::string>> kept_rules(const ledger::ledger_file& file,
                                                                            const std::string& name) {
    std::map<std::string, std::pair<records::entry_no, std::string>> kept;
    file.for_each_with(kind::map_rule, "map", name, file.head().seq, [&](const ledger::stored_row& stored) {
        kept.emplace(stored.values["rule"], std::pair{stored.entry, std::string{stored.values["value"]}});
    });
    return kept;
}

/// The void of a rule that was voided and not brought back; 0 where there is none.
records::entry_no voided(const ledger::ledger_file& file, const std::string& name, const std::string& rule) {
    records::entry_no last = 0;
    file.for_each_with(
        kind::map_rule, "map", name, file.head().seq,
        [&](const ledger::stored_row& stored) {
            if (stored.values["rule"] == rule) last = stored.entry;
        },
        ledger::ledger_file::which_rows::ever);
    if (last == 0) return 0;
    const auto replaced = file.replaced_by(last);
    return replaced && replaced->voids ? replaced->by : 0;
}

records::row row_of(const std::string& name, const std::string& rule, const std::string& value) {
    records::row made;
    made.which = kind::map_rule;
    made.set("map", name);
    made.set("rule", rule);
    made.set("value", value);
    return made;
}

void check_rules(const std::string& name, const map_rules& rules) {
    std::vector<std::string> faults;
    const records::season nothing;
    const records::excuses none;
    for (const auto& [rule, value] : rules) {
        const records::complaint complain = [&, &said = rule](std::string_view, const std::string& what,
                                                              const std::string& right) {
            faults.push_back(fmt::format("{}: {}; {}", said, what, right));
        };
        const auto row = row_of(name, rule, value);
        if (!check_text(row, complain) || !check_format(row, complain)) continue;
        records::complaints said{row, none, complain};
        records::info(kind::map_rule).check(row, nothing, said);
    }
    if (!faults.empty()) throw records::refused(std::move(faults));
}

} // namespace

map_rules read_map_file(const std::string& text, const std::string& path) {
    map_rules rules;
    std::vector<std::string> faults;
    std::string under;
    std::size_t number = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find('\n', at), text.size());
        const auto line = trimmed(std::string_view{text}.substr(at, end - at));
        at = end + 1;
        ++number;
        const auto wrong = [&](const std::string& what, const std::string& right) {
            faults.push_back(fmt::format("{}:{}: {}; {}", path, number, what, right));
        };
        if (line.empty() || line.starts_with('#')) continue;
        if (line.starts_with('[') && line.ends_with(']')) {
            under = std::string{trimmed(line.substr(1, line.size() - 2))} + ".";
            continue;
        }
        const auto sign = line.find('=');
        const auto value = sign == std::string_view::npos ? std::nullopt : quoted_value(trimmed(line.substr(sign + 1)));
        const auto rule = under + std::string{trimmed(line.substr(0, sign))};
        if (!value)
            wrong("is no rule", "write it as: dates = \"mdy\"");
        else if (!rules.emplace(rule, *value).second)
            wrong(rule + " stands twice", "keep one of them");
    }
    if (!faults.empty()) throw records::refused(std::move(faults));
    return rules;
}

std::string map_file_of(const map_rules& rules, const std::vector<std::string>& said) {
    std::string text;
    for (const auto& each : said)
        text += "# " + each + "\n";
    const auto add = [&](bool of_records) {
        for (const auto& [rule, value] : rules)
            if (records::read_record_rule(rule).has_value() == of_records)
                text += fmt::format("{} = {}\n", rule, quoted_text(value));
    };
    add(false);
    add(true);
    return text;
}

change_summary keep_map(ledger::ledger_file& to, const std::string& name, const map_rules& rules,
                        const std::vector<std::string>& without, const std::string& why,
                        const ledger::surroundings& around) {
    check_rules(name, rules);
    ledger::writer writing{to, around};
    const auto kept = kept_rules(to, name);
    for (const auto& rule : without)
        if (!kept.contains(rule))
            throw records::input_error(
                fmt::format("the map {} has no rule '{}'; see: tarewell intake map {}", name, rule, name));
    change_summary summary;
    writing.begin({"intake map " + name, why});
    for (const auto& [rule, value] : rules) {
        const auto row = row_of(name, rule, value);
        const auto found = kept.find(rule);
        if (found != kept.end() && found->second.second == value) continue;
        const auto before = found != kept.end() ? found->second.first : voided(to, name, rule);
        summary.entries.push_back(before == 0 ? writing.append(row)
                                              : writing.append(row, ledger::deed::correct, before));
    }
    for (const auto& rule : without)
        if (!rules.contains(rule)) summary.entries.push_back(writing.append_void(kind::map_rule, kept.at(rule).first));
    if (summary.entries.empty())
        summary.note = "the map says so already; nothing was changed";
    else
        writing.commit();
    return summary;
}

} // namespace tarewell::intake
