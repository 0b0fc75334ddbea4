#include "intake/map_names.hpp"

#include "intake/map_sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>

namespace tarewell::intake {
namespace {

/// Every word of `part` is one of `whole`.
bool has_words_of(const std::string& whole, const std::string& part) {
    const auto bare = [](std::string text) {
        std::replace_if(
            text.begin(), text.end(), [](char c) { return c == ',' || c == '.' || c == ';'; }, ' ');
        return records::listed(text, ' ');
    };
    const auto words = bare(whole), wanted = bare(part);
    return !wanted.empty() && std::all_of(wanted.begin(), wanted.end(), [&](const std::string& each) {
        return std::find(words.begin(), words.end(), each) != words.end();
    });
}

} // namespace

map_names::kind_records& map_names::of(records::kind which) {
    const auto [at, is_new] = kinds_.try_emplace(which);
    if (is_new)
        file_.for_each(which, file_.head().seq, [&](const ledger::stored_row& stored) {
            values made;
            for (std::size_t i = 0; i < records::info(which).columns.size(); ++i)
                made.emplace_back(stored.values[i]);
            at->second.all.push_back(std::move(made));
        });
    return at->second;
}

std::string map_names::key_of(const std::vector<std::size_t>& columns, const values& of) {
    std::string key;
    for (const auto column : columns) {
        const auto part = same_words(of[column]);
        if (part.empty()) return {};
        key += part + '\x1f';
    }
    return key;
}

const map_names::values* map_names::known(records::kind which, const std::vector<std::size_t>& columns,
                                          const values& as) {
    auto& records = of(which);
    const auto [index, is_new] = records.by_columns.try_emplace(columns);
    if (is_new)
        for (std::size_t i = 0; i < records.all.size(); ++i)
            if (const auto key = key_of(columns, records.all[i]); !key.empty()) index->second.emplace(key, i);
    const auto key = key_of(columns, as);
    const auto found = key.empty() ? index->second.end() : index->second.find(key);
    return found == index->second.end() ? nullptr : &records.all[found->second];
}

void map_names::add(records::kind which, const values& made) {
    auto& records = of(which);
    for (auto& [columns, index] : records.by_columns)
        if (const auto key = key_of(columns, made); !key.empty()) index.emplace(key, records.all.size());
    if (records.ever) records.ever->insert(made[records::info(which).key[0]]);
    records.all.push_back(made);
}

read_value map_names::id_of(records::kind which, const std::vector<std::size_t>& by, std::string_view text) {
    const auto& kind = records::info(which);
    const auto id = kind.key[0];
    const auto wanted = same_words(text);
    std::map<std::string, std::string> same, parts; // id: what people call it
    for (const auto& each : of(which).all) {
        if (each[id] == text) return {each[id]};
        for (const auto column : by) {
            const auto has = same_words(each[column]);
            if (has.empty()) continue;
            if (has == wanted) same.emplace(each[id], each[column]);
            if (has_words_of(has, wanted)) parts.emplace(each[id], each[column]);
        }
    }
    const auto& found = same.empty() ? parts : same;
    if (found.size() == 1) {
        read_value made{found.begin()->first};
        if (same.empty())
            made.doubt = fmt::format("'{}' is taken for {} ({})", text, made.value, found.begin()->second);
        return made;
    }
    std::vector<std::string> candidates;
    for (const auto& [each, name] : found)
        candidates.push_back(fmt::format("{} ({})", each, name));
    if (candidates.empty())
        return {{},
                fmt::format("no {} is called '{}'", kind.called(), text),
                fmt::format("mend the name, write its id, or record the {} first", kind.called())};
    return {{},
            fmt::format("'{}' may be {} {}s", text, candidates.size(), kind.called()),
            fmt::format("write the id: {}", fmt::join(candidates, ", "))};
}

std::set<std::string>& map_names::ids_ever(records::kind which) {
    auto& records = of(which);
    if (!records.ever) {
        const auto& kind = records::info(which);
        records.ever.emplace();
        file_.for_each_journal_entry(1, file_.head().seq, [&](const ledger::journal_entry& entry) {
            if (entry.kind != kind.name || entry.deed == "void") return;
            file_.with_entry(which, entry.seq, [&](const ledger::stored_row& stored) {
                records.ever->emplace(stored.values[kind.key[0]]);
            });
        });
        for (const auto& each : records.all)
            records.ever->insert(each[kind.key[0]]);
    }
    return *records.ever;
}

std::string map_names::next(records::kind which, std::size_t column, const std::string& before,
                            const std::string& after, std::size_t digits) {
    std::uint64_t highest = 0;
    const auto look_at = [&](std::string_view id) {
        if (!id.starts_with(before) || !id.ends_with(after) || id.size() <= before.size() + after.size()) return;
        const auto number = id.substr(before.size(), id.size() - before.size() - after.size());
        std::uint64_t value = 0;
        const auto [end, failure] = std::from_chars(number.data(), number.data() + number.size(), value);
        if (failure == std::errc{} && end == number.data() + number.size() && number.size() < 18)
            highest = std::max(highest, value);
    };
    if (column == records::info(which).key[0]) {
        for (const auto& id : ids_ever(which))
            look_at(id);
    } else {
        for (const auto& each : of(which).all)
            look_at(each[column]);
    }
    return fmt::format("{}{:0{}}{}", before, highest + 1, digits, after);
}

} // namespace tarewell::intake
