#include "desk/maps.hpp"
#include "office/scratch.hpp"
#include "office/sheets.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace tarewell::office {
namespace {

constexpr std::size_t most_rows_shown = 300;

/// Of the terminal's "--set 'dates=mdy'" the line that a map's text has for it: dates = "mdy".
std::string as_a_line(std::string told) {
    constexpr std::string_view option = "--set ";
    const auto at = told.find(option);
    if (at == std::string::npos) return told;
    const auto begins = at + option.size();
    const bool quoted = told[begins] == '\'';
    const auto end = std::min(told.find(quoted ? '\'' : ' ', begins + 1), told.size());
    const auto rule = told.substr(begins + (quoted ? 1 : 0), end - begins - (quoted ? 1 : 0));
    const auto sign = rule.find('=');
    if (sign == std::string::npos) return told;
    return fmt::format("{}write the line {} = \"{}\"{}", told.substr(0, at), rule.substr(0, sign),
                       rule.substr(sign + 1), told.substr(std::min(end + (quoted ? 1 : 0), told.size())));
}

/// The line of a map's text, from 1, with the rule that a refusal names first, or the one where its record begins; none
/// where the text has neither.
value line_named(const std::string& text, const std::string& refusal) {
    std::map<std::string, std::size_t> lines;
    std::string section;
    std::size_t number = 0;
    const auto add = [&](const std::string& rule) {
        const auto record = rule.substr(0, rule.find('.'));
        if (records::find_kind(record.substr(0, record.find('-'))) != nullptr) lines.emplace(record, number);
        lines.emplace(rule, number);
    };
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find('\n', from), text.size());
        const auto line = intake::trimmed(std::string_view{text}.substr(from, end - from));
        ++number;
        from = end + 1;
        if (line.starts_with('[') && line.find(']') != std::string_view::npos) {
            section = std::string{line.substr(1, line.find(']') - 1)} + ".";
            add(section);
        } else if (const auto sign = line.find('='); sign != std::string_view::npos && !line.starts_with('#'))
            add(section + std::string{intake::trimmed(line.substr(0, sign))});
    }
    std::size_t first = refusal.size(), found = 0;
    for (const auto& [rule, at] : lines)
        if (const auto place = refusal.find(rule); place <= first && place != std::string::npos)
            first = place, found = at;
    return found == 0 ? value{} : value{found};
}

value refusals_for_page(const std::string& text, const std::vector<std::string>& lines) {
    auto told = value::array();
    for (const auto& each : lines)
        told.push_back({{"text", as_a_line(each)}, {"line", line_named(text, each)}});
    return told;
}

value rows_for_page(const intake::mapped_sheet& sheet) {
    auto rows = value::array();
    for (const auto& row : sheet.rows) {
        if (rows.list()->size() == most_rows_shown) break;
        auto made = value::array();
        for (const auto& each : row.made)
            made.push_back(desk::record_told(each));
        rows.push_back({{"line", row.line}, {"refused", row.refused}, {"made", std::move(made)}, {"look", row.doubts}});
    }
    return rows;
}

const waiting_file& file_at_hand(const state& of, const std::string& waiting) {
    const auto* file = of.waiting.find(waiting);
    if (file == nullptr) throw records::input_error("that file is not at hand any more; send it once more");
    return *file;
}

/// What the map makes of the file; recorded, unless it is only looked at.
intake::mapped_intake taken_by(state& of, const intake::sheet_map& map, const waiting_file& file, bool dry_run) {
    const scratch_folder folder;
    const auto path = folder.write(file.name, file.bytes);
    const auto before = path.substr(0, path.size() - plain_name(file.name).size());
    try {
        auto taken = intake::take_mapped(of.kept.file(), path, map, of.around, {dry_run});
        taken.faults = lines_without(std::move(taken.faults), before);
        taken.sheet.shown = plain_name(file.name);
        return taken;
    } catch (const records::refused& refusal) {
        throw records::refused(lines_without(refusal.lines(), before));
    }
}

void put_preview(value& data, state& of, const sheet_page& sheet, const intake::sheet_map& map) {
    const auto& file = file_at_hand(of, sheet.waiting);
    const auto taken = taken_by(of, map, file, true);
    data["file"] = taken.sheet.shown;
    put_list(data, "rows", rows_for_page(taken.sheet));
    const auto all = taken.sheet.rows.size();
    data["more"] = all > most_rows_shown ? value{all - most_rows_shown} : value{};
    data["passed_over"] =
        taken.sheet.left_out.empty()
            ? value{}
            : value{desk::counted(taken.sheet.left_out.size(), "row is", "rows are") + " passed over, as the map says"};
    put_list(data, "faults",
             refusals_for_page(sheet.text, desk::told_together(desk::with_words_of_keys(taken.faults))));
    data["good"] = taken.faults.empty() && all > 0;
}

intake::map_rules rules_in(const std::string& text) {
    std::string lines;
    std::copy_if(text.begin(), text.end(), std::back_inserter(lines), [](char c) { return c != '\r'; });
    return intake::read_map_file(lines, "map");
}

/// Keeps the map as its text has it: what is not there any more is taken out.
void keep(state& of, const std::string& name, const intake::map_rules& rules, const std::string& why) {
    auto& file = of.kept.file();
    std::vector<std::string> without;
    file.for_each_with(records::kind::map_rule, "map", name, file.head().seq, [&](const ledger::stored_row& stored) {
        const std::string rule{stored.values["rule"]};
        if (rules.count(rule) == 0) without.push_back(rule);
    });
    (void)intake::keep_map(file, name, rules, without, why, of.around);
}

response imported(state& of, const sheet_page& sheet, const intake::sheet_map& map) {
    const auto& file = file_at_hand(of, sheet.waiting);
    auto taken = taken_by(of, map, file, false);
    if (!taken.faults.empty()) return show_sheet(of, sheet, 422); // which tells them
    std::size_t made = 0;
    value done{{"file", plain_name(file.name)}};
    auto lines = value::array();
    records::entry_no last = 0;
    for (const auto& each : taken.files) {
        made += each.taken;
        last = std::max(last, each.last);
        lines.push_back(fmt::format("{}: {} new, {} known already", each.kind_file, each.taken, each.known));
    }
    for (const auto& note : taken.sheet.notes)
        lines.push_back(note);
    done["made"] = desk::counted(made, "record", "records");
    done["act"] = act_of(of.kept.file(), last);
    put_list(done, "lines", std::move(lines));
    return page(of, "sheet", "Imported by a map", {{"done", std::move(done)}, {"form", nullptr}});
}

} // namespace

std::vector<std::string> lines_without(std::vector<std::string> lines, const std::string& folder) {
    for (auto& each : lines)
        for (auto at = each.find(folder); at != std::string::npos; at = each.find(folder))
            each.erase(at, folder.size());
    return lines;
}

std::string proposed_for(const waiting_file& file) {
    const scratch_folder folder;
    intake::table_file table{folder.write(file.name, file.bytes)};
    const auto* kind = records::find_kind(file.kind);
    const auto proposed = intake::propose_map(table, kind == nullptr ? std::nullopt : std::optional{kind->which});
    return intake::map_file_of(proposed.rules, proposed.said);
}

std::string kept_map(state& of, const std::string& name) {
    return desk::map_of(desk::looked_at{of.kept.opened()}, name).text();
}

std::vector<std::string> names_of_maps(state& of) {
    std::vector<std::string> names;
    auto& file = of.kept.file();
    file.for_each(records::kind::map_rule, file.head().seq,
                  [&](const ledger::stored_row& stored) { names.emplace_back(stored.values["map"]); });
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    return names;
}

response show_sheet(state& of, const sheet_page& sheet, int status) {
    value form{
        {"map", sheet.map}, {"text", sheet.text}, {"waiting", sheet.waiting.empty() ? value{} : value{sheet.waiting}},
        {"file", nullptr},  {"good", false},      {"rules", desk::rules_of_maps().text()}};
    auto wrong = sheet.wrong;
    if (wrong.empty()) {
        try {
            const auto map = intake::map_of(sheet.map.empty() ? "new" : sheet.map, rules_in(sheet.text));
            if (!sheet.waiting.empty()) put_preview(form, of, sheet, map);
        } catch (const records::refused& refusal) {
            wrong = refusal.lines();
        }
    }
    put_list(form, "wrong", refusals_for_page(sheet.text, desk::with_words_of_keys(wrong)));
    return page(of, "sheet", sheet.waiting.empty() ? "A map" : "Somebody else's sheet",
                {{"done", nullptr}, {"form", std::move(form)}}, status);
}

response show_map(state& of, const call& from) {
    const auto name = from.query.text("name");
    return show_sheet(of, {name, kept_map(of, name), {}});
}

response take_map(state& of, const call& from) {
    sheet_page sheet{from.sent.text("map"), from.sent.text("text"), from.sent.text("waiting")};
    const auto what = from.sent.text("do");
    if (what.empty() || what == "try") return show_sheet(of, sheet);
    try {
        if (sheet.map.empty()) throw records::refused{{"the map has no name yet; give it one, such as autumn_form"}};
        const auto rules = rules_in(sheet.text);
        const auto map = intake::map_of(sheet.map, rules);
        if (sheet.waiting.empty()) {
            const auto why = from.sent.text("why");
            keep(of, sheet.map, rules, why.empty() ? "changed at the office page" : why);
            return sent_on("/files");
        }
        const auto& file = file_at_hand(of, sheet.waiting);
        if (!taken_by(of, map, file, true).faults.empty()) return show_sheet(of, sheet, 422);
        keep(of, sheet.map, rules, "by " + plain_name(file.name));
        return imported(of, sheet, intake::map_named(of.kept.file(), sheet.map));
    } catch (const records::refused& refusal) {
        sheet.wrong = refusal.lines();
        return show_sheet(of, sheet, 422);
    }
}

} // namespace tarewell::office
