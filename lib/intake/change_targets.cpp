#include "intake/change_targets.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::intake {

using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

bool matches(const row& values, const std::vector<std::string>& key) {
    const auto& kind = info(values.which);
    for (std::size_t i = 0; i < key.size() && i < kind.key_columns; ++i)
        if (values[kind.key[i]] != key[i]) return false;
    return true;
}

} // namespace

[[noreturn]] void refuse(const std::vector<finding>& findings) {
    std::vector<std::string> lines;
    for (const auto& each : findings)
        lines.push_back(fmt::format("{}: {}; {}", each.column, each.what, each.right));
    throw refused(std::move(lines));
}

[[noreturn]] void refuse_one(const std::string& column, std::string what, std::string right) {
    refuse({{0, column, std::move(what), std::move(right)}});
}

std::string key_text(const kind_info& kind, const std::vector<std::string>& key) {
    return fmt::format("{} {}", kind.name, fmt::join(key, " "));
}

void check_key(const kind_info& kind, const std::vector<std::string>& key) {
    if (key.empty() || key.size() > kind.key_columns) {
        std::vector<std::string_view> names;
        for (std::size_t i = 0; i < kind.key_columns; ++i)
            names.push_back(kind.columns[kind.key[i]].name);
        refuse_one(std::string{kind.name}, fmt::format("{} parts of a key are given", key.size()),
                   fmt::format("a {} is named by its {}", kind.name, fmt::join(names, " and ")));
    }
}

std::vector<target> targets_of(const ledger_file& file, kind which, const std::vector<std::string>& key, entry_no head,
                               bool with_voided) {
    std::vector<target> found;
    const auto id_column = info(which).columns[info(which).key[0]].name;
    const auto keep = [&](const stored_row& stored) {
        if (matches(stored.values, key)) found.push_back({stored.entry, stored.entry, owned_row{stored.values}});
    };
    file.for_each_with(which, id_column, key[0], head, keep, ledger_file::which_rows::ever);
    for (auto& each : found)
        if (const auto replaced = file.replaced_by(each.row_entry))
            each.replaces = with_voided && replaced->voids && !file.replaced_by(replaced->by) ? replaced->by : 0;
    std::erase_if(found, [](const target& each) { return each.replaces == 0; });
    // Those in force first, then the voided ones in the order of their voids.
    std::stable_sort(found.begin(), found.end(), [](const target& a, const target& b) {
        const bool a_voided = a.row_entry != a.replaces, b_voided = b.row_entry != b.replaces;
        return std::pair{a_voided, a.replaces} < std::pair{b_voided, b.replaces};
    });
    return found;
}

void leave_voided(std::vector<target>& targets, const std::vector<std::string>& key) {
    const auto is_voided = [](const target& each) { return each.row_entry != each.replaces; };
    if (std::all_of(targets.begin(), targets.end(), is_voided)) return;
    std::erase_if(targets, [&](const target& each) {
        const bool named =
            key.size() == info(each.values.values().which).key_columns && matches(each.values.values(), key);
        return is_voided(each) && !named;
    });
}

std::vector<finding> replay_change(const ledger_file& file, entry_no head, kind which,
                                   const std::vector<target>& targets, const substitutions& changed,
                                   const std::vector<const row*>& brought_back, neighbourhood::naming how, sight of) {
    if (of == sight::whole_season || info(which).moves_all)
        return replay(all_rows(file, head), head + 1, changed, brought_back);
    neighbourhood near{file, head};
    for (const auto& each : targets) {
        near.around(each.values.values());
        file.with_entry(which, each.row_entry, [&](const stored_row& before) {
            const owned_row old{before.values};
            near.around(old.values());
        });
        near.who_name(each.values.values(), how);
    }
    return replay(
        [&](kind one, const std::function<void(entry_no, const row&)>& each) {
            for (const auto& [entry, stored] : near.rows(one))
                each(entry, stored.values());
        },
        head + 1, changed, brought_back);
}

bool holds_any(const ledger_file& file, entry_no head, const std::function<bool(const row&)>& of_this_sort) {
    bool found = false;
    for (const auto& kind : all_kinds())
        file.for_each(kind.which, head,
                      [&](const stored_row& stored) { found = found || of_this_sort(stored.values); });
    return found;
}

} // namespace tarewell::intake
