#include "entering.hpp"

#include "desk/find.hpp"
#include "desk/labels.hpp"
#include "intake/format_check.hpp"
#include "ledger/load_season.hpp"
#include "write_and_tell.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

using desk::typed_values;
using records::column;

std::string trimmed(const std::string& text) {
    const auto from = text.find_first_not_of(" \t\r"), to = text.find_last_not_of(" \t\r");
    return from == std::string::npos ? std::string{} : text.substr(from, to - from + 1);
}

std::string value_of(const typed_values& values, std::string_view name) {
    const auto found = values.find(std::string{name});
    return found == values.end() ? std::string{} : found->second;
}

records::row row_of(const records::kind_info& kind, const typed_values& values) {
    records::row row;
    row.which = kind.which;
    for (const auto& [name, value] : values)
        row.set(name, value);
    return row;
}

std::vector<std::string> split(const std::string& text) {
    std::vector<std::string> parts(1);
    for (const char c : text) {
        if (c != ' ' && c != ',' && c != ';')
            parts.back() += c;
        else if (!parts.back().empty())
            parts.emplace_back();
    }
    if (parts.back().empty()) parts.pop_back();
    return parts;
}

} // namespace

entering::entering(context& with, ledger::ledger_file& file, records::kind which, typed_values fixed, bool all,
                   std::vector<typed_values> sheet)
    : with_{with}, file_{file}, kind_{records::info(which)}, fixed_{std::move(fixed)}, all_{all},
      sheet_{std::move(sheet)}, next_{file, which, with.around.now().substr(0, 10)} {}

/// A bale's bundles, a haul's, a shipment's bales: several rows of one record, typed at once.
bool entering::takes_several(const column& of) const {
    return kind_.key_columns == 2 && of.name == kind_.columns[kind_.key[1]].name && of.names.has_value();
}

void entering::run() {
    with_.err << fmt::format("{}. Enter takes what stands in [ ], - leaves a field empty, < goes back, ? explains,\n"
                             "undo takes back the last one, . ends.\n",
                             kind_.file);
    for (;;) {
        typed_values values = fixed_;
        bool goes_on = true;
        for (bool recorded = false; goes_on && !recorded;) {
            goes_on = ask_all(values);
            if (!goes_on) break;
            try {
                record(values);
                recorded = true;
            } catch (const records::refused& refusal) {
                for (const auto& line : refusal.lines())
                    with_.err << "  " << line << '\n';
                with_.err << "  not recorded; look through it again (Enter keeps what you typed)\n";
            }
        }
        if (!goes_on) break;
        with_.err << '\n';
    }
    with_.exit = done; // what was held back was told at once
    with_.err << fmt::format("{} recorded", recorded_);
    if (undone_ > 0) with_.err << fmt::format(", {} of them taken back", undone_);
    with_.err << '\n';
}

bool entering::ask_all(typed_values& values) {
    std::vector<const column*> columns;
    const auto usual = next_.asked(all_);
    for (const auto& each : kind_.columns) {
        const bool on_the_sheet = !sheet_.empty() && sheet_.front().count(std::string{each.name}) > 0;
        if (fixed_.count(std::string{each.name}) == 0 &&
            (on_the_sheet || std::find(usual.begin(), usual.end(), &each) != usual.end()))
            columns.push_back(&each);
    }
    for (std::size_t at = 0; at < columns.size();) {
        switch (ask(*columns[at], values, at == 0)) {
        case said::next:
            ++at;
            break;
        case said::back:
            at = at == 0 ? 0 : at - 1;
            break;
        case said::undone:
            values = fixed_;
            at = 0;
            break;
        case said::end:
            if (at > 0) with_.err << fmt::format("  the {} that was begun is not recorded\n", kind_.name);
            return false;
        }
    }
    return true;
}

entering::said entering::ask(const column& of, typed_values& values, bool first) {
    const auto before = value_of(values, of.name);
    for (;;) {
        const auto proposed = before.empty() ? proposal(of, values) : before;
        const auto line =
            with_.read_line(proposed.empty() ? fmt::format("{}: ", desk::label_of(kind_, of))
                                             : fmt::format("{} [{}]: ", desk::label_of(kind_, of), proposed));
        if (!line || *line == ".") return said::end;
        const auto text = trimmed(*line);
        if (text == "<") return said::back;
        if (text == "?") {
            explain(of, values);
            continue;
        }
        if (first && text == "undo") {
            undo();
            return said::undone;
        }
        const auto meant = text == "-" ? std::string{} : text.empty() ? proposed : text;
        if (meant.empty()) {
            if (of.required) {
                with_.err << fmt::format("  {} is needed: {}\n", desk::label_of(kind_, of), what_it_takes(of));
                continue;
            }
            values.erase(std::string{of.name});
            return said::next;
        }
        if (auto value = taken(of, meant, values)) {
            if (*value != meant && !of.names && !of.names_by) with_.err << fmt::format("  = {}\n", *value);
            if (of.name == "scale" && value_of(values, of.name) != *value)
                values.erase("unit"); // the scale's own is proposed
            values[std::string{of.name}] = std::move(*value);
            return said::next;
        }
    }
}

std::string entering::proposal(const column& of, const typed_values& so_far) const {
    if (sheet_row_ < sheet_.size())
        if (auto on_it = value_of(sheet_[sheet_row_], of.name); !on_it.empty()) return on_it;
    return next_.proposed(of, so_far);
}

void entering::go_on_after(const typed_values& recorded) {
    const auto tells_it_apart = [&](const std::string& name) {
        const auto& of = kind_.columns[kind_.index_of(name)];
        return of.names ? *of.names != records::kind::site : of.names_by != nullptr;
    };
    const auto is_it = [&](const typed_values& row) {
        return std::all_of(row.begin(), row.end(), [&](const auto& each) {
            return !tells_it_apart(each.first) || value_of(recorded, each.first) == each.second;
        });
    };
    const auto found = std::find_if(sheet_.begin(), sheet_.end(), is_it);
    if (found == sheet_.end()) return;
    sheet_row_ = static_cast<std::size_t>(found - sheet_.begin()) + 1;
    if (sheet_row_ == sheet_.size()) with_.err << "  that was the sheet's last row; . ends\n";
}

const records::season& entering::season() {
    const auto head = file_.head().seq;
    if (!seen_ || seen_at_ != head) seen_ = ledger::load_season(file_, head);
    seen_at_ = head;
    return *seen_;
}

std::optional<std::string> entering::looked_up(records::kind among, const std::string& text) {
    const auto found = desk::find(season(), among, text);
    if (found.matches.size() == 1) {
        if (!found.by_id) with_.err << "  " << found.matches.front().in_words() << '\n';
        return found.matches.front().id;
    }
    with_.err << "  "
              << (found.matches.empty() ? desk::none_found(among, text, found.near)
                                        : desk::several_found(among, text, found.matches))
              << '\n';
    return std::nullopt;
}

std::optional<std::string> entering::taken(const column& of, const std::string& text, const typed_values& so_far) {
    auto row = row_of(kind_, so_far);
    row.set(of.name, text);
    if (const auto among = records::kind_named(of, row)) {
        if (!takes_several(of)) return looked_up(*among, text);
        std::vector<std::string> ids;
        for (const auto& each : split(text)) {
            auto id = looked_up(*among, each);
            if (!id) return std::nullopt;
            ids.push_back(std::move(*id));
        }
        return fmt::format("{}", fmt::join(ids, " "));
    }
    auto value = text;
    if (of.type == records::column_type::date)
        value = desk::day_as_typed(text, next_.today(),
                                   value_of(so_far, of.name).empty() ? next_.proposed(of, so_far)
                                                                     : value_of(so_far, of.name));
    if (of.type == records::column_type::word) {
        std::vector<std::string_view> beginning;
        for (const auto word : of.words)
            if (word.starts_with(value)) beginning.push_back(word);
        if (beginning.size() == 1) value = beginning.front();
    }
    row.set(of.name, value);
    bool good = true;
    intake::check_format(row, [&](std::string_view name, const std::string& what, const std::string& right) {
        if (name != of.name) return;
        good = false;
        with_.err << fmt::format("  {}; {}\n", what, right);
    });
    return good ? std::optional{value} : std::nullopt;
}

void entering::explain(const column& of, const typed_values& so_far) {
    const bool own_id = of.type == records::column_type::id && !of.names && !of.names_by;
    const auto next = own_id ? next_.proposed(of, so_far) : std::string{};
    with_.err << fmt::format("  {}{}\n",
                             !own_id        ? what_it_takes(of)
                             : next.empty() ? "a number or word of its own, without spaces"
                                            : fmt::format("a number of its own; Enter takes the next one, {}", next),
                             of.required ? "" : "; may be left empty");
    const auto among = records::kind_named(of, row_of(kind_, so_far));
    const auto named = among ? among : of.names;
    if (!named) return;
    constexpr std::size_t shown = 20;
    const auto things = desk::things_of(season(), *named);
    const auto from = things.size() > shown ? things.size() - shown : 0;
    for (std::size_t i = from; i < things.size(); ++i)
        with_.err << fmt::format("  {}{}\n", things[i].in_words(), things[i].more.empty() ? "" : ", " + things[i].more);
    if (from > 0)
        with_.err << fmt::format("  ... the last {} of {}; type a part of a name to look for others\n", shown,
                                 things.size());
}

void entering::record(const typed_values& values) {
    std::vector<typed_values> rows{values};
    for (const auto& each : kind_.columns) {
        if (!takes_several(each)) continue;
        rows.clear();
        for (const auto& id : split(value_of(values, each.name))) {
            rows.push_back(values);
            rows.back()[std::string{each.name}] = id;
        }
    }
    std::vector<std::vector<std::string>> keys;
    for (const auto& row : rows) {
        const record_how how{row, {}, {}, {}, false};
        if (!record_and_tell(how, kind_, with_, file_)) break;
        std::vector<std::string> key{value_of(row, kind_.columns[kind_.key[0]].name)};
        if (kind_.key_columns == 2) key.push_back(value_of(row, kind_.columns[kind_.key[1]].name));
        keys.push_back(std::move(key));
        next_.took(row);
    }
    if (keys.empty()) return;
    last_keys_ = std::move(keys);
    ++recorded_;
    go_on_after(values);
}

void entering::undo() {
    if (last_keys_.empty()) {
        with_.err << "  nothing was recorded here that could be taken back\n";
        return;
    }
    const auto why = with_.read_line("why: ");
    if (!why || trimmed(*why).empty()) {
        with_.err << "  a reason is needed; nothing was taken back\n";
        return;
    }
    for (auto key = last_keys_.rbegin(); key != last_keys_.rend(); ++key) {
        try {
            const auto change = intake::void_record(file_, kind_.which, *key, trimmed(*why), with_.writing());
            with_.out << fmt::format("{} {} voided by entry {}\n", kind_.name, fmt::join(*key, " "),
                                     fmt::join(change.entries, ", "));
            tell_filed(file_, change.entries, with_);
        } catch (const records::refused& refusal) {
            for (const auto& line : refusal.lines())
                with_.err << "  " << line << '\n';
            return;
        }
    }
    last_keys_.clear();
    ++undone_;
}

} // namespace tarewell::cli
