#include "desk/find.hpp"
#include "desk/labels.hpp"
#include "desk/listing.hpp"
#include "desk/understood.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

constexpr std::size_t most_found = 60;

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Every word of it is somewhere in the row.
bool holds(const ledger::stored_row& stored, const std::vector<std::string>& words) {
    std::string all;
    for (std::size_t i = 0; i < records::info(stored.values.which).columns.size(); ++i) {
        std::transform(stored.values[i].begin(), stored.values[i].end(), std::back_inserter(all), small);
        all += '\n';
    }
    return std::all_of(words.begin(), words.end(),
                       [&](const auto& word) { return all.find(word) != std::string::npos; });
}

std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words(1);
    for (const char c : text) {
        if (c == ' ')
            words.emplace_back();
        else
            words.back() += small(c);
    }
    std::erase(words, "");
    return words;
}

/// Where nothing holds it: what people may have meant, by a label, a telephone number, or letters that are close.
value near_to(const desk::season_view& seen, const std::string& asked) {
    using enum records::kind;
    auto lines = value::array();
    for (const auto which : {grower, site, scale, cover, bundle, bale, shipment, ticket}) {
        const auto found = desk::find(seen.season, which, asked);
        for (const auto& each : found.matches.empty() ? found.near : found.matches) {
            const auto& kind = records::info(which);
            lines.push_back({{"kind", desk::label_of(kind)},
                             {"key", each.id},
                             {"link", record_link(kind.name, each.id)},
                             {"values", found.matches.empty() ? "near it: " + each.name : each.name}});
        }
    }
    return lines;
}

/// An id that is meant exactly stands before everything that only holds it.
value found_in(state& of, const std::string& asked, bool& more) {
    const auto words = words_of(asked);
    auto exactly = value::array();
    std::vector<value> others;
    const auto& seen = of.kept.season();
    for (const auto& kind : records::recorded_kinds())
        seen.file.for_each(kind.which, seen.as_of, [&](const ledger::stored_row& stored) {
            const auto id = stored.values[kind.key[0]];
            const bool is_it = records::same_but_for_case(id, asked);
            if (!is_it && (others.size() > most_found || words.empty() || !holds(stored, words))) return;
            value line{{"kind", desk::label_of(kind)},
                       {"key", records::key_for_people(stored.values)},
                       {"link", record_link(kind.name, id, kind.key_columns == 2 ? stored.values[kind.key[1]] : "")},
                       {"values", desk::understood(seen.season, seen.reckoning, stored)}};
            if (is_it)
                exactly.push_back(std::move(line));
            else
                others.push_back(std::move(line));
        });
    more = others.size() > most_found;
    if (exactly.empty() && others.empty()) return near_to(seen, asked);
    for (auto& each : others)
        exactly.push_back(std::move(each));
    return exactly;
}

value all_kinds_of_records() {
    auto kinds = value::array();
    for (const auto& kind : records::recorded_kinds())
        kinds.push_back({{"kind", kind.name}, {"label", desk::label_of(kind)}});
    auto groups = value::array();
    groups.push_back({{"heading", "All of a kind, as CSV"}, {"kinds", std::move(kinds)}});
    return groups;
}

} // namespace

response show_found(state& of, const call& from) {
    const auto asked = from.query.text("q");
    bool more = false;
    value data{{"asked", asked.empty() ? value{} : value{asked}}};
    put_list(data, "found", asked.empty() ? value::array() : found_in(of, asked, more));
    data["more"] = more;
    data["groups"] = all_kinds_of_records();
    return page(of, "find", "Find", std::move(data));
}

response give_records(state& of, const call& from) {
    const auto& kind = kind_of(from.query);
    std::string text;
    desk::csv_of_records(desk::looked_at{of.kept.opened()}, kind, desk::list_request{},
                         [&](const std::string& line) { text += line; });
    return download(fmt::format("{}.csv", kind.file), "text/csv; charset=utf-8", std::move(text));
}

} // namespace tarewell::office
