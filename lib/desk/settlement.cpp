#include "desk/settlement.hpp"

#include "desk/due_groups.hpp"
#include "desk/find.hpp"
#include "quantity/dollars.hpp"
#include "reconcile/flags.hpp"
#include "reconcile/settlements.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::desk {

using quantity::dollars;

namespace {

using namespace records; // NOLINT
using reconcile::settlement;

/// "2.4 %", or nothing where the whole is nothing.
std::string percent_of(quantity::weight part, quantity::weight whole) {
    if (whole.count() <= 0) return {};
    return fmt::format("{:.1f} %", 100 * quantity::nearest_double(part.count(), whole.count()));
}

value share_of(quantity::weight part, quantity::weight whole) {
    return whole.count() > 0 ? value{quantity::nearest_double(part.count(), whole.count())} : value{};
}

std::string or_dash(const std::optional<quantity::weight>& of) { return of ? quantity::text_of(*of) : "-"; }

cell weight_cell(const std::optional<quantity::weight>& of) { return {or_dash(of), value{of}}; }

/// What left by our scale beside what was received or, where that is not told, accepted.
std::optional<quantity::weight> apart(const settlement& of) {
    if (of.accepted == nullptr || of.unweighed > 0) return std::nullopt;
    return (of.received ? *of.received : of.accepted->accepted_weight) - of.shipped;
}

/// The rows of a shipment's paper, by which its flags are known.
std::set<std::pair<kind, entry_no>> rows_of(const season& season, const settlement& of) {
    std::set<std::pair<kind, entry_no>> rows;
    if (of.accepted != nullptr) rows.emplace(kind::acceptance, of.accepted->entry);
    for (const auto* each : of.incomes)
        rows.emplace(kind::income, each->entry);
    for (const auto* each : of.costs)
        rows.emplace(kind::cost, each->entry);
    for (const auto& each : season.shipment_rows)
        if (each.shipment == of.shipment) rows.emplace(kind::shipment, each.entry);
    return rows;
}

class paper {
  public:
    paper(const season_view& seen, const settlement& of) : seen_{seen}, of_{of}, load_{seen.season.at(of.shipment)} {}

    answer told() {
        say_load();
        say_bales();
        say_weights();
        say_money();
        say_flags();
        say_next();
        return std::move(made_);
    }

  private:
    void say_load() {
        made_.data = {{"shipment", load_.id.text()},
                      {"date", load_.date},
                      {"processor", load_.processor},
                      {"carrier", load_.carrier},
                      {"bill_of_lading", load_.bill_of_lading},
                      {"unit", seen_.unit()}};
        made_.say("shipment {} to {}, {}{}{}\n\n", load_.id.text(), load_.processor, quantity::text_of(load_.date),
                  load_.carrier.empty() ? "" : ", carrier " + load_.carrier,
                  load_.bill_of_lading.empty() ? "" : ", bill of lading " + load_.bill_of_lading);
    }

    void say_bales() {
        table bales{{"bale", fmt::format("net {}=net", seen_.unit()), "weighed", "ticket",
                     fmt::format("rejected {}=rejected", seen_.unit()), "why=reason"}};
        for (const auto place : load_.bales) {
            const auto& bale = seen_.reckoning.at(place);
            std::vector<std::string> why;
            for (const auto& each : seen_.reckoning.residues)
                if (each.bale == place) why.push_back(seen_.season.rejects[each.reject].reason);
            const auto residue = bale.residue.count() > 0 ? std::optional{bale.residue} : std::nullopt;
            const auto reasons = fmt::format("{}", fmt::join(why, ", "));
            if (bale.weighed)
                bales.add({seen_.season.at(place).id.text(), bale.weighed->net, bale.weighed->on,
                           seen_.season.tickets[bale.weighed->ticket].id, weight_cell(residue), reasons});
            else
                bales.add({seen_.season.at(place).id.text(), cell{"not weighed", value{}}, cell{"", value{}},
                           cell{"", value{}}, weight_cell(residue), reasons});
        }
        made_.tell("bales", bales);
        made_.say("\n");
    }

    void line(const char* what, const char* name, const std::optional<quantity::weight>& of, const std::string& more) {
        made_.data[name] = of;
        made_.say("{:<26}{:>14}{}{}{}\n", what, or_dash(of), of ? " " + seen_.unit() : "", more.empty() ? "" : "  ",
                  more);
    }

    void say_weights() {
        made_.data["unweighed_bales"] = of_.unweighed;
        line("shipped, by our scale", "shipped", of_.shipped,
             counted(of_.bales, "bale", "bales") +
                 (of_.unweighed > 0 ? fmt::format(", {} not weighed", of_.unweighed) : ""));
        if (of_.accepted == nullptr) {
            made_.data["accepted"] = value{};
            made_.say("no processor's settlement is recorded\n");
            return;
        }
        const auto& said = *of_.accepted;
        const auto rejected = of_.rejected_weight();
        line("received, by theirs", "received", of_.received, "");
        const auto reason = why_rejected();
        std::string told;
        if (rejected && rejected->count() > 0)
            told = fmt::format("{}{}", of_.received ? percent_of(*rejected, *of_.received) + ": " : "",
                               reason.empty() ? "no reason is given" : reason);
        line("rejected", "rejected", rejected, told);
        made_.data["reason"] = reason;
        line("accepted", "accepted", said.accepted_weight,
             quantity::text_of(said.date) + (said.document.empty() ? "" : ", " + said.document));
        made_.data["accepted_on"] = said.date;
        made_.data["document"] = said.document;
        say_difference();
    }

    /// As the settlement says, else as the processor's rejects do.
    [[nodiscard]] std::string why_rejected() const {
        if (!of_.accepted->reason.empty()) return of_.accepted->reason;
        std::set<std::string> why;
        for (const auto& each : seen_.season.rejects)
            if (each.stage == stage::processor && each.bale && seen_.reckoning.at(each.bale).shipment == of_.shipment)
                why.insert(each.reason);
        return fmt::format("{}", fmt::join(why, ", "));
    }

    void say_difference() {
        const auto tolerance = seen_.season.number_on("acceptance_tolerance_percent", of_.accepted->date);
        const auto difference = apart(of_);
        made_.data["difference"] = difference;
        made_.data["difference_share"] = difference ? share_of(*difference, of_.shipped) : value{};
        made_.data["tolerance_percent"] = quantity::shortest_text(tolerance);
        if (!difference) {
            made_.say("the difference waits for {} of bales\n", of_.unweighed == 1 ? "the ticket" : "the tickets");
            return;
        }
        made_.say("{:<26}{:>14} {}  {}; the tolerance is {} %\n",
                  of_.received ? "received less shipped" : "accepted less shipped", quantity::text_of(*difference),
                  seen_.unit(), percent_of(*difference, of_.shipped), quantity::shortest_text(tolerance));
    }

    void say_money() {
        const auto* said = of_.accepted;
        for (const char* name : {"price", "charge", "per"})
            made_.data[name] = value{};
        made_.data["amount"] = of_.asked;
        if (of_.asked) {
            const auto& price = said->price ? *said->price : *said->charge;
            made_.data[said->price ? "price" : "charge"] = quantity::shortest_text(price);
            made_.data["per"] = name_of(said->per);
            made_.say("\n{} pays {}${} per {} x {} {} = {}\n", load_.processor,
                      said->price ? "" : "nothing and charges ", quantity::shortest_text(price), name_of(said->per),
                      quantity::shortest_text(said->written_weight), quantity::name_of(said->unit),
                      dollars(*of_.asked));
        }
        table made{{"what=kind", "id", "date", "amount $=amount", "of=party", "document"}};
        for (const auto* each : of_.incomes)
            made.add({"income", each->id, each->date, each->amount, each->party, each->document});
        for (const auto* each : of_.costs)
            made.add({"cost", each->id, each->date, each->amount, each->payee, each->document});
        if (!made.empty()) made_.say("\n");
        made_.data["made"] = made.rows();
        if (!made.empty()) made_.show(made);
    }

    void say_flags() {
        const auto rows = rows_of(seen_.season, of_);
        table flags{{"level", "flag=code", "what=sentence"}};
        for (const auto& each : reconcile::flags_of_paper(seen_.season, seen_.reckoning)) {
            const bool ours = std::any_of(each.rows.begin(), each.rows.end(), [&](const auto& row) {
                return rows.contains({row.which, row.entry});
            });
            if (!ours) continue;
            const auto level = reconcile::level_of(each.code);
            made_.found = made_.found || level != reconcile::flag_level::note;
            flags.add({name_of(level), each.code, each.sentence});
        }
        if (!flags.empty()) made_.say("\n");
        made_.data["flags"] = flags.rows();
        if (!flags.empty()) made_.show(flags);
    }

    void say_next() {
        const auto& id = load_.id.text();
        if (of_.accepted == nullptr)
            made_.say("to record it: tarewell settle {} --date DATE --received WEIGHT --rejected WEIGHT --reason WHY "
                      "--price PRICE --invoice NUMBER\n",
                      id);
        else if (of_.is_open())
            made_.say("to record the {}: tarewell settle {} --invoice NUMBER\n",
                      of_.accepted->charge ? "cost" : "income", id);
    }

    const season_view& seen_;
    const settlement& of_;
    const shipment& load_;
    answer made_;
};

std::string state_of(const settlement& of) {
    if (of.accepted == nullptr) return "under way";
    if (of.is_open()) return of.accepted->charge ? "charge not recorded" : "price not recorded";
    if (of.asked && of.settled() != *of.asked) return "amount differs";
    return of.asked || !of.incomes.empty() || !of.costs.empty() ? "settled" : "accepted, no price told";
}

/// Sums over a processor's shipments.
struct of_processor {
    std::size_t shipments = 0, accepted_shipments = 0;
    quantity::weight shipped, accepted, received, rejected;
    quantity::weight handed; ///< accepted and rejected of the shipments whose rejected weight is told
    bool received_told = false, rejected_told = false;
    quantity::money earned, spent;

    void add(const settlement& each) {
        ++shipments;
        shipped += each.shipped;
        earned += each.earned;
        spent += each.charged;
        if (each.accepted == nullptr) return;
        ++accepted_shipments;
        accepted += each.accepted->accepted_weight;
        if (each.received) received += *each.received, received_told = true;
        if (const auto rejected_here = each.rejected_weight()) {
            rejected += *rejected_here, rejected_told = true;
            handed += *rejected_here + each.accepted->accepted_weight;
        }
    }
};

cell per_ton(const of_processor& of, quantity::weight_unit unit) {
    const auto tons = quantity::short_tons_exact(of.accepted, unit);
    if (tons.numerator <= 0 || (of.earned.count() == 0 && of.spent.count() == 0)) return {"-", value{}};
    const auto net = (of.earned - of.spent).count();
    const auto exact = quantity::nearest_double(quantity::wide{net} * tons.denominator, tons.numerator * 100);
    return {fmt::format("{:.2f}", exact), value{exact}};
}

void add_line(table& to, const std::string& processor, const std::string& quarter, const of_processor& of,
              quantity::weight_unit unit) {
    const auto told = [](bool any, quantity::weight w) { return any ? std::optional{w} : std::nullopt; };
    const auto rejected = told(of.rejected_told, of.rejected);
    to.add({processor, quarter, of.shipments, of.accepted_shipments, of.shipped,
            weight_cell(told(of.received_told, of.received)), weight_cell(rejected),
            cell{rejected ? percent_of(*rejected, of.handed) : "", rejected ? share_of(*rejected, of.handed) : value{}},
            of.accepted, of.earned, of.spent, per_ton(of, unit)});
}

} // namespace

answer settlement_told(const season_view& seen, const std::string& shipment) {
    static_cast<void>(seen.award());
    const auto place = seen.season.find_shipment(shipment);
    if (!place)
        throw input_error(none_found(kind::shipment, shipment, find(seen.season, kind::shipment, shipment).near));
    const auto all = reconcile::settlements_of(seen.season, seen.reckoning);
    return paper{seen, all[place.index()]}.told();
}

answer settlements_listed(const season_view& seen) {
    static_cast<void>(seen.award());
    answer made;
    table lines{{"shipment", "date", "processor", "bales", fmt::format("shipped {}=shipped", seen.unit()), "received",
                 "rejected", "accepted", "amount $=amount", "recorded $=recorded", "state"}};
    for (const auto& each : reconcile::settlements_of(seen.season, seen.reckoning)) {
        const auto& load = seen.season.at(each.shipment);
        const auto accepted = each.accepted != nullptr ? std::optional{each.accepted->accepted_weight} : std::nullopt;
        lines.add({load.id.text(), load.date, load.processor, each.bales, each.shipped, weight_cell(each.received),
                   weight_cell(each.accepted != nullptr ? each.rejected_weight() : std::nullopt), weight_cell(accepted),
                   cell{each.asked ? quantity::text_of(*each.asked) : "-", value{each.asked}}, each.settled(),
                   state_of(each)});
    }
    if (lines.empty()) made.say("no shipment is recorded\n");
    made.tell(lines);
    return made;
}

answer processors_told(const season_view& seen) {
    const auto unit = seen.award().unit;
    const quantity::quarter_calendar calendar{seen.award().quarter_starts};
    std::map<std::string, std::string> names; // the first way in which each is written
    std::map<std::string, std::map<quantity::quarter, of_processor>> sums;
    of_processor all;
    for (const auto& each : reconcile::settlements_of(seen.season, seen.reckoning)) {
        const auto& load = seen.season.at(each.shipment);
        const auto key = reconcile::processor_key(load.processor);
        names.emplace(key, load.processor);
        sums[key][calendar.holding(load.date)].add(each);
        all.add(each);
    }
    answer made;
    table lines{{"processor", "quarter", "shipments", "accepted=accepted_shipments",
                 fmt::format("shipped {}=shipped", seen.unit()), "received", "rejected", "share=rejected_share",
                 fmt::format("accepted {}=accepted", seen.unit()), "paid $=paid", "charged $=charged",
                 "net $ a ton=net_per_ton"}};
    for (const auto& [key, quarters] : sums) {
        for (const auto& [quarter, of] : quarters)
            add_line(lines, names.at(key), quantity::text_of(quarter), of, unit);
    }
    if (lines.empty()) {
        made.say("no shipment is recorded\n");
    } else {
        add_line(lines, "all", "", all, unit);
    }
    made.tell(lines);
    quantity::money elsewhere;
    for (const auto& each : seen.season.incomes)
        if (each.earned && !each.shipment) elsewhere += each.amount;
    if (elsewhere.count() != 0)
        made.say(
            "Program income of ${} names no shipment and stands on no line here; tell it by: tarewell correct income "
            "INCOME --shipment SHIPMENT --why TEXT\n",
            quantity::text_of(elsewhere));
    return made;
}

} // namespace tarewell::desk
