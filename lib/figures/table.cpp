#include "figures/table.hpp"

#include "figures/closing.hpp"
#include "figures/make_columns.hpp"
#include "figures/table_maker.hpp"
#include "reconcile/days.hpp"
#include "reconcile/flags.hpp"
#include "reconcile/side_by_side.hpp"

#include <algorithm>
#include <cctype>
#include <numeric>
#include <stdexcept>

namespace tarewell::figures {

using namespace records; // NOLINT

std::size_t table::column(std::string_view column_name) const {
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].name == column_name) return i;
    throw std::logic_error("no such column: " + std::string{column_name});
}

cell table::total(std::size_t column, const std::vector<std::size_t>& of_rows) const {
    const auto summed = [&](auto sum) {
        for (const auto row : of_rows)
            if (const auto* each = std::get_if<decltype(sum)>(&rows[row][column])) sum += *each;
        return cell{sum};
    };
    switch (columns[column].content) {
    case content::number:
        return summed(std::int64_t{});
    case content::heft:
        return summed(weight{});
    case content::dollars:
        return summed(money{});
    default:
        return {};
    }
}

void say_of(const quantity::period& period, table& of) {
    if (period.is_quarter()) return;
    of.about = said_of(period, of.about);
    for (auto& each : of.columns)
        each.heading = said_of(period, each.heading);
}

std::string form_word(std::string_view table_name) {
    std::string word;
    for (const char c : table_name)
        word += c == ' ' || c == '-' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return word;
}

namespace {

table adjustments_table(const std::vector<restatement>& adjusted) {
    table made{"Adjustments",
               "What changed in quarters filed before: filed, now, and the entries that moved it. The to-date "
               "figures of this report are worked out from the records active now.",
               {words("quarter", "Quarter"), words("figure", "Figure"), words("filed", "Filed"), words("now", "Now"),
                words("difference", "Difference"), words("unit", "Unit"), words("entries", "Moved by entries")},
               {}};
    for (const auto& each : adjusted) {
        std::string entries;
        for (const auto& entry : each.moved_by)
            entries += (entries.empty() ? "" : ", ") + std::to_string(entry.seq);
        made.rows.push_back(row_of(quantity::text_of(each.period), each.figure, shown(each.filed, each.unit),
                                   shown(each.now, each.unit), shown(each.difference(), each.unit), each.unit,
                                   entries));
    }
    return made;
}

} // namespace

std::vector<table> evidence_tables(const season& of, const reconcile::reckoning& reckoned, const basis& on,
                                   bool with_names, const std::vector<restatement>& adjusted) {
    const table_maker maker{of, reckoned, on, with_names};
    std::vector<table> tables;
    tables.push_back(maker.by_site());
    tables.push_back(maker.by_grower());
    for (const auto by : {reconcile::grouping::town, reconcile::grouping::structure, reconcile::grouping::film})
        tables.push_back(maker.by_word(by));
    tables.push_back(maker.bales());
    tables.push_back(maker.tickets());
    tables.push_back(maker.rejects());
    tables.push_back(maker.acceptances());
    tables.push_back(maker.budget());
    tables.push_back(maker.costs());
    tables.push_back(maker.inkind());
    tables.push_back(maker.requests());
    tables.push_back(maker.payments());
    tables.push_back(maker.obligations());
    tables.push_back(maker.program_income());
    tables.push_back(maker.receipts());
    tables.push_back(maker.bundles());
    tables.push_back(maker.flags());
    for (auto& each : tables)
        say_of(on.period, each);
    if (!adjusted.empty()) tables.push_back(adjustments_table(adjusted));
    return tables;
}

namespace {

cell maybe(const std::optional<day>& value) { return value ? cell{*value} : cell{}; }
cell maybe(const std::optional<weight>& value) { return value ? cell{*value} : cell{}; }

/// Places in the order of their ids.
template <class Rows> std::vector<std::size_t> by_id(const Rows& of) {
    std::vector<std::size_t> order(of.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return of[a].id < of[b].id; });
    return order;
}

std::vector<table_column> stage_columns() {
    return {counts("registered", "Registered"),
            heft("registered_estimate", "Registered estimate"),
            counts("received", "Received"),
            heft("received_estimate", "Received estimate"),
            counts("rejected", "Rejected"),
            counts("baled", "Baled"),
            counts("weighed", "Weighed"),
            heft("weighed_estimate", "Weighed estimate"),
            heft("scale_weight", "Scale weight (share)"),
            heft("difference", "Scale less estimate"),
            {"ratio", "Scale over estimate", content::ratio, false}};
}

void append_stages(std::vector<cell>& row, const reconcile::side_by_side& line) {
    const auto ratio = line.ratio();
    for (cell each : {cell{line.registered.bundles}, cell{line.registered.estimate}, cell{line.received.bundles},
                      cell{line.received.estimate}, cell{line.rejected.bundles}, cell{line.baled.bundles},
                      cell{line.weighed.bundles}, cell{line.weighed.estimate}, cell{line.scale_weight},
                      cell{line.difference()}, ratio ? cell{*ratio} : cell{}})
        row.push_back(std::move(each));
}

} // namespace

table table_maker::by_site() const {
    table made{"By site",
               "What came to each site in the quarter; scale weight is the sum of its bundles' shares.",
               {words("site", "Site"), words("name", "Name"), words("town", "Town"), counts("receipts", "Receipts")},
               {}};
    for (auto& column : stage_columns())
        made.columns.push_back(std::move(column));
    std::vector<std::int64_t> receipts(s_.sites.size());
    for (const auto& receipt : s_.receipts)
        if (on_.days.holds(receipt.date)) ++receipts[receipt.site.index()];
    const auto lines = reconcile::reconcile_by(reconcile::grouping::site, s_, r_, on_.days);
    for (const auto i : by_id(s_.sites)) {
        const auto& site = s_.sites[i];
        const auto found =
            std::find_if(lines.begin(), lines.end(), [&](const auto& line) { return line.id == site.id.text(); });
        std::vector<cell> row{site.id.text(), site.name, site.town, receipts[i]};
        append_stages(row, found == lines.end() ? reconcile::side_by_side{} : *found);
        made.rows.push_back(std::move(row));
    }
    return made;
}

table table_maker::by_grower() const {
    table made{"By grower",
               "What came of each grower's bundles in the quarter; a bale's net is shared over its bundles.",
               {words("grower", "Grower")},
               {}};
    if (with_names_) made.columns.push_back(words("name", "Name"));
    made.columns.push_back(date_column("first_received", "First received"));
    for (auto& column : stage_columns())
        made.columns.push_back(std::move(column));
    std::vector<std::optional<day>> first(s_.growers.size());
    for (const auto& receipt : s_.receipts) {
        if (receipt.outcome != outcome::accepted) continue;
        auto& known = first[s_.at(s_.at(receipt.bundle).registration).grower.index()];
        if (!known || receipt.date < *known) known = receipt.date;
    }
    const auto lines = reconcile::reconcile_by(reconcile::grouping::grower, s_, r_, on_.days);
    auto line = lines.begin();
    for (const auto i : by_id(s_.growers)) {
        const auto& grower = s_.growers[i];
        while (line != lines.end() && line->id < grower.id.text())
            ++line;
        const bool there = line != lines.end() && line->id == grower.id.text();
        if (!there && !first[i]) continue;
        std::vector<cell> row{grower.id.text()};
        if (with_names_) row.emplace_back(grower.erased ? "(erased on request)" : grower.name);
        row.push_back(maybe(first[i]));
        append_stages(row, there ? *line : reconcile::side_by_side{});
        made.rows.push_back(std::move(row));
    }
    return made;
}

table table_maker::by_word(reconcile::grouping by) const {
    const std::string word{reconcile::name_of(by)};
    table made{"By " + word,
               by == reconcile::grouping::town ? "What came in the quarter from growers of each town."
                                               : "What came in the quarter by " + word + " of the covers registered.",
               {words(word, std::string(1, static_cast<char>(std::toupper(static_cast<unsigned char>(word[0])))) +
                                word.substr(1))},
               {}};
    for (auto& column : stage_columns())
        made.columns.push_back(std::move(column));
    for (const auto& line : reconcile::reconcile_by(by, s_, r_, on_.days)) {
        std::vector<cell> row{line.id};
        append_stages(row, line);
        made.rows.push_back(std::move(row));
    }
    return made;
}

table table_maker::bales() const {
    table made{"Bales",
               "Every active bale, its ticket and its net; counted on is the day on which it counts as diverted.",
               {words("bale", "Bale"),
                date_column("made_on", "Pressed on"),
                words("site", "Pressed at"),
                counts("pressed", "Bundles pressed"),
                counts("inside", "Bundles in it when weighed"),
                heft("estimate", "Estimate"),
                words("ticket", "Ticket"),
                words("weighed_by", "Weighed by"),
                date_column("weighed_on", "Weighed on"),
                heft("net", "Net"),
                heft("difference", "Net less estimate"),
                {"ratio", "Net over estimate", content::ratio, false},
                heft("residue", "Residue"),
                words("shipment", "Shipment"),
                date_column("shipped_on", "Shipped on"),
                date_column("shipped_and_weighed_on", "Shipped and weighed on"),
                date_column("counted_on", "Counted on")},
               {}};
    for (const auto i : by_id(s_.bales))
        made.rows.push_back(bale_row(i));
    return made;
}

std::vector<cell> table_maker::bale_row(std::size_t index) const {
    const auto& bale = s_.bales[index];
    const auto& known = r_.bales[index];
    std::vector<cell> row{bale.id.text(),
                          bale.date,
                          s_.at(bale.site).id.text(),
                          static_cast<std::int64_t>(bale.bundles.size()),
                          static_cast<std::int64_t>(known.inside.size()),
                          known.estimate};
    if (known.weighed) {
        const bool estimated = known.estimate.count() != 0;
        row.emplace_back(s_.tickets[known.weighed->ticket].id);
        row.emplace_back(known.weighed->by_load ? "load" : "bale");
        row.emplace_back(known.weighed->on);
        row.emplace_back(known.weighed->net);
        row.emplace_back(known.weighed->net - known.estimate);
        row.push_back(estimated ? cell{quantity::nearest_double(known.weighed->net.count(), known.estimate.count())}
                                : cell{});
    } else {
        row.resize(row.size() + 6);
    }
    row.emplace_back(known.residue);
    row.push_back(known.shipment ? cell{s_.at(known.shipment).id.text()} : cell{});
    const bale_place place{index};
    row.push_back(maybe(reconcile::shipped_on(s_, r_, place)));
    row.push_back(maybe(reconcile::shipped_and_weighed_on(s_, r_, place)));
    row.push_back(maybe(reconcile::counted_on(s_, r_, place)));
    return row;
}

table table_maker::bundles() const {
    table made{"Bundles",
               "Every active bundle along its life; left inventory on is the day from which it was no longer on hand.",
               {words("bundle", "Bundle"), words("registration", "Registration"), counts("number", "Number"),
                counts("of", "Of"), words("grower", "Grower"), words("site", "Registered for"),
                date_column("registered_on", "Registered on"), heft("estimate", "Estimate"), words("basis", "Basis"),
                date_column("received_on", "Received on"), words("received_at", "Received at"),
                date_column("rejected_on", "First rejected on"), words("bale", "Bale"),
                date_column("baled_on", "Baled on"), words("in_bale", "In the bale"),
                date_column("weighed_on", "Weighed on"), date_column("left_on", "Left inventory on"),
                heft("share", "Share of net")},
               {}};
    made.columns[2].summed = made.columns[3].summed = false;
    for (std::size_t i = 0; i < s_.bundles.size(); ++i)
        made.rows.push_back(bundle_row(i));
    return made;
}

std::vector<cell> table_maker::bundle_row(std::size_t index) const {
    const auto& bundle = s_.bundles[index];
    const auto& known = r_.bundles[index];
    const auto& registration = s_.at(bundle.registration);
    std::optional<day> received, rejected, weighed;
    std::string received_at;
    if (known.accepting_receipt) {
        const auto& receipt = s_.receipts[*known.accepting_receipt];
        received = receipt.date;
        received_at = s_.at(receipt.site).id.text();
    }
    if (!known.rejections.empty()) rejected = known.rejections.front().on;
    if (known.in_bale() && r_.at(known.bale).weighed) weighed = r_.at(known.bale).weighed->on;
    return {bundle.id.text(),
            registration.id.text(),
            bundle.number,
            bundle.of,
            s_.at(registration.grower).id.text(),
            s_.at(registration.site).id.text(),
            registration.date,
            known.claim.estimate,
            std::string{name_of(known.claim.basis)},
            maybe(received),
            received_at.empty() ? cell{} : cell{received_at},
            maybe(rejected),
            known.bale ? cell{s_.at(known.bale).id.text()} : cell{},
            known.bale ? cell{s_.at(known.bale).date} : cell{},
            known.bale ? cell{known.pulled ? "pulled" : "yes"} : cell{},
            maybe(weighed),
            maybe(reconcile::left_on(s_, r_, bundle_place{index})),
            maybe(known.share)};
}

} // namespace tarewell::figures
