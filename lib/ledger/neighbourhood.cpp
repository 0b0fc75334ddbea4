#include "ledger/neighbourhood.hpp"

#include <algorithm>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

std::string_view id_column(kind which) { return info(which).columns[info(which).key[0]].name; }

bool may_name(const column& by, kind named) { return by.names == named || by.names_by != nullptr; }

/// Columns by which records of other kinds, or of the same, name one of this kind.
template <class Each> void for_each_naming(kind named, Each&& each) {
    for (const auto& other : all_kinds())
        for (const auto& column : other.columns)
            if (may_name(column, named)) each(other.which, column);
}

/// Rules of some kind look at the values of such a record.
bool is_looked_at(kind which) {
    bool found = false;
    for_each_naming(which, [&](kind, const column& by) { found = found || (by.looked_at && by.names == which); });
    return found;
}

} // namespace

neighbourhood::neighbourhood(const ledger_file& file, entry_no head) : file_{file}, head_{head} {
    for (const auto& kind : all_kinds())
        if (kind.moves_all) all(kind.which);
}

void neighbourhood::all(kind which) {
    std::vector<std::pair<entry_no, owned_row>> found;
    file_.for_each(which, head_,
                   [&](const stored_row& each) { found.emplace_back(each.entry, owned_row{each.values}); });
    keep(std::move(found));
}

void neighbourhood::with(kind which, std::string_view column, std::string_view text) {
    if (text.empty() || !asked_.emplace(which, std::string{column}, std::string{text}).second) return;
    std::vector<std::pair<entry_no, owned_row>> found;
    file_.for_each_with(which, column, text, head_,
                        [&](const stored_row& each) { found.emplace_back(each.entry, owned_row{each.values}); });
    keep(std::move(found));
}

void neighbourhood::keep(std::vector<std::pair<entry_no, owned_row>> found) {
    for (auto& [entry, values] : found) {
        auto& rows = rows_[static_cast<std::size_t>(values.values().which)];
        const auto [at, fresh] = rows.try_emplace(entry, std::move(values));
        if (!fresh) continue;
        if (!ordered_up_to_now_) unordered_.insert(entry);
        what_it_names(at->second.values());
    }
}

void neighbourhood::load_named(kind which, std::string_view id) { with(which, id_column(which), id); }

void neighbourhood::what_it_names(const row& of) {
    for (const auto& column : info(of.which).columns) {
        const auto named = kind_named(column, of);
        if (!named) continue;
        const std::string id{of[column.name]};
        load_named(*named, id);
        if (!column.looked_at) continue;
        // What a label says is found among the bundles of its registration.
        for_each_naming(*named, [&](kind other, const records::column& by) {
            if (by.together && other < of.which) with(other, by.name, id);
        });
    }
}

void neighbourhood::look_at(kind which, std::string_view id) {
    if (id.empty() || !looked_at_.emplace(which, std::string{id}).second) return;
    load_named(which, id);
    std::vector<std::pair<kind, std::string>> further;
    const auto look_further = [&](kind at, std::string_view column, std::string_view text, bool at_itself) {
        for (const auto& [entry, stored] : rows(at)) {
            const auto& values = stored.values();
            if (values[column] != text) continue;
            if (at_itself && is_looked_at(at)) further.emplace_back(at, values[id_column(at)]);
            for (const auto& each : info(at).columns)
                if (each.looked_at && each.names) further.emplace_back(*each.names, values[each.name]);
        }
    };
    look_further(which, id_column(which), id, false);
    for_each_naming(which, [&](kind other, const column& by) {
        if (!by.together) return;
        with(other, by.name, id);
        look_further(other, by.name, id, true);
    });
    for (const auto& [at, text] : further)
        look_at(at, text);
}

void neighbourhood::around(const row& centre) {
    if (info(centre.which).seen_whole) all(centre.which);
    with(centre.which, id_column(centre.which), centre[id_column(centre.which)]);
    what_it_names(centre);
    for (const auto& column : info(centre.which).columns) {
        const auto named = kind_named(column, centre);
        if (!named) continue;
        if (column.together) with(centre.which, column.name, centre[column.name]);
        if (column.looked_at) look_at(*named, centre[column.name]);
    }
}

void neighbourhood::who_name(const row& centre, naming how) {
    const std::string id{centre[id_column(centre.which)]};
    for_each_naming(centre.which, [&](kind other, const column& by) {
        if (how == naming::any || by.looked_at) with(other, by.name, id);
    });
}

season neighbourhood::season(const std::set<entry_no>& voided) const {
    records::season made;
    for (const auto& kind : all_kinds())
        for (const auto& [entry, stored] : rows(kind.which))
            if (!voided.contains(entry))
                made.add(stored.values(), entry, unordered_.contains(entry) ? entry : file_.first_of(entry));
    return made;
}

} // namespace tarewell::ledger
