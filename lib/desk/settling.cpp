#include "desk/settling.hpp"

#include "desk/next_id.hpp"
#include "desk/settlement.hpp"
#include "intake/intake.hpp"
#include "ledger/load_season.hpp"
#include "quantity/dollars.hpp"
#include "reconcile/settlements.hpp"
#include "records/billionths.hpp"
#include "records/errors.hpp"

#include <algorithm>

namespace tarewell::desk {

using quantity::dollars;

namespace {

using namespace records; // NOLINT

quantity::decimal number_of(const char* option, const std::string& text) {
    const auto read = quantity::read_decimal(text);
    if (read.fault != quantity::decimal_fault::none)
        throw input_error(fmt::format("{} '{}' is no number; write it as 10400 or 0.04", option, text));
    return read.value;
}

/// a + b or a - b as it is written in a file.
std::string sum_text(const quantity::decimal& a, const quantity::decimal& b, int sign) {
    const auto sum = billionths(a) + sign * billionths(b);
    if (sum < 0) throw input_error("more is rejected or accepted than was received; mend the weights");
    return quantity::shortest_text({static_cast<std::int64_t>(sum), 9});
}

/// What the three weights of a settlement are, where two are told or only one.
struct weights_told {
    std::string received, rejected, accepted;
};

weights_told weights_of(const settling& of) {
    weights_told made{of.received, of.rejected, of.weight};
    const auto number = [](const char* option, const std::string& text) { return number_of(option, text); };
    if (!made.received.empty() && made.accepted.empty() && made.rejected.empty()) made.rejected = "0";
    if (!made.received.empty() && !made.rejected.empty() && made.accepted.empty())
        made.accepted = sum_text(number("--received", made.received), number("--rejected", made.rejected), -1);
    else if (!made.received.empty() && made.rejected.empty())
        made.rejected = sum_text(number("--received", made.received), number("--weight", made.accepted), -1);
    else if (made.received.empty() && !made.rejected.empty() && !made.accepted.empty())
        made.received = sum_text(number("--weight", made.accepted), number("--rejected", made.rejected), 1);
    if (made.accepted.empty())
        throw input_error("what the processor accepted is not told; give --weight, or --received and --rejected");
    return made;
}

class settler {
  public:
    settler(const ledger::ledger_file& file, const settling& of, const ledger::surroundings& around,
            const intake::record_one& record)
        : file_{file}, of_{of}, record_{record}, date_{of.date.empty() ? around.now().substr(0, 10) : of.date} {}

    void settle() {
        const auto before = ledger::load_season(file_, file_.head().seq);
        if (!before.the_award) throw input_error("the ledger has no award yet; record it or take in award.csv first");
        const auto place = before.find_shipment(of_.shipment);
        if (!place) throw input_error(fmt::format("no shipment '{}' is recorded", of_.shipment));
        processor_ = before.at(place).processor;
        unit_ = of_.unit.empty() ? std::string{quantity::name_of(before.the_award->unit)} : of_.unit;
        if (before.at(place).accepted_on)
            hold_to_acceptance();
        else
            record_acceptance();
        record_reject();
        record_money(place);
    }

  private:
    void record_acceptance() {
        const auto told = weights_of(of_);
        const bool priced = !of_.price.empty() || !of_.charge.empty();
        record_(kind::acceptance, {{"shipment", of_.shipment},
                                   {"date", date_},
                                   {"weight", told.accepted},
                                   {"unit", unit_},
                                   {"document", of_.document},
                                   {"received", told.received},
                                   {"rejected", told.rejected},
                                   {"reason", of_.reason},
                                   {"price", of_.price},
                                   {"charge", of_.charge},
                                   {"per", priced && of_.per.empty() ? unit_ : of_.per}});
    }

    /// The acceptance was recorded before: what is told again must say the same.
    void hold_to_acceptance() const {
        const std::pair<const char*, const std::string*> told[] = {
            {"weight", &of_.weight}, {"received", &of_.received}, {"rejected", &of_.rejected},
            {"unit", &of_.unit},     {"reason", &of_.reason},     {"price", &of_.price},
            {"charge", &of_.charge}, {"per", &of_.per},           {"document", &of_.document}};
        std::string other, options;
        file_.for_each_with(kind::acceptance, "shipment", of_.shipment, file_.head().seq, [&](const auto& stored) {
            for (const auto& [name, text] : told) {
                const auto known = stored.values[name];
                if (text->empty() || same(name, known, *text)) continue;
                other += fmt::format("{}{} is {} there and '{}' here", other.empty() ? "" : ", ", name,
                                     known.empty() ? "not given" : fmt::format("'{}'", known), *text);
                options += fmt::format(" --{} '{}'", name, *text);
            }
        });
        if ((!of_.price.empty() || !of_.charge.empty()) && of_.per.empty()) options += " --per " + unit_;
        if (!other.empty())
            throw input_error(fmt::format("the acceptance of shipment {} is recorded already and says otherwise: {}; "
                                          "nothing was changed. Mend it first: tarewell correct acceptance {}{} --why "
                                          "TEXT",
                                          of_.shipment, other, of_.shipment, options));
    }

    static bool same(std::string_view name, std::string_view known, std::string_view told) {
        const auto& kind = info(kind::acceptance);
        const auto type = kind.columns[kind.index_of(name)].type;
        const auto a = quantity::read_decimal(known), b = quantity::read_decimal(told);
        if (type == column_type::nonnegative && a.fault == b.fault && a.fault == quantity::decimal_fault::none)
            return a.value == b.value;
        return same_but_for_case(known, told);
    }

    void record_reject() {
        if (of_.bale.empty()) return;
        if (of_.rejected.empty() || of_.reason.empty())
            throw input_error(
                "--bale names the bale that something was rejected out of; give --rejected and --reason, too");
        record_(kind::reject, {{"reject", next_id(file_, kind::reject, "J001")},
                               {"date", date_},
                               {"stage", "processor"},
                               {"bale", of_.bale},
                               {"weight", of_.rejected},
                               {"unit", unit_},
                               {"reason", of_.reason},
                               {"disposition", of_.disposition},
                               {"document", of_.document}});
    }

    void record_money(shipment_place place) {
        const auto with = ledger::load_season(file_, file_.head().seq);
        const auto made = std::find_if(with.acceptances.begin(), with.acceptances.end(),
                                       [&](const acceptance& each) { return each.shipment == place; });
        const auto asked = made == with.acceptances.end() ? std::nullopt : asked_for(*made);
        hold_to_amount(asked);
        if (!asked) {
            if (!of_.invoice.empty())
                throw input_error("an invoice is told and neither price nor charge; give --price or --charge, as in "
                                  "--price 0.04 --per lb");
            return;
        }
        if (asked->count() == 0) return;
        refuse_twice(with, place, made->charge.has_value());
        if (made->charge)
            record_cost(*asked);
        else
            record_income(*asked);
    }

    void hold_to_amount(const std::optional<quantity::money>& asked) const {
        if (of_.amount.empty()) return;
        const auto told = number_of("--amount", of_.amount);
        if (told.scale > 2)
            throw input_error(fmt::format("--amount '{}' has more than two decimals; write it as 404.00", of_.amount));
        if (!asked) throw input_error("an amount is told and neither price nor charge; give --price or --charge");
        if (quantity::money_from(told) != *asked)
            throw input_error(
                fmt::format("the amount told is {}, and the price times the accepted weight is {}; nothing "
                            "was changed. Mend the weight or the price, or ask the processor",
                            dollars(quantity::money_from(told)), dollars(*asked)));
    }

    void refuse_twice(const season& with, shipment_place place, bool charge) const {
        const auto refuse = [&](const char* what, const std::string& id, quantity::money amount) {
            throw input_error(fmt::format("{} {} of {} is recorded for shipment {} already; nothing was changed", what,
                                          id, dollars(amount), of_.shipment));
        };
        if (charge) {
            for (const auto& each : with.costs)
                if (each.shipment == place &&
                    reconcile::processor_key(each.payee) == reconcile::processor_key(processor_))
                    refuse("cost", each.id, each.amount);
            return;
        }
        for (const auto& each : with.incomes)
            if (each.shipment == place) refuse("income", each.id, each.amount);
    }

    [[nodiscard]] std::string description() const {
        return fmt::format("film of shipment {}{}", of_.shipment, of_.invoice.empty() ? "" : ", " + of_.invoice);
    }

    /// As the award's income was entered before; without any, deduction, which 2 CFR 200.307 sets where the agency does
    /// not say otherwise.
    [[nodiscard]] std::string usual_method() const {
        std::string method = "deduction";
        file_.for_each(kind::income, file_.head().seq,
                       [&](const ledger::stored_row& stored) { method = stored.values["method"]; });
        return method;
    }

    void record_income(quantity::money amount) {
        record_(kind::income, {{"income", next_id(file_, kind::income, "IN1")},
                               {"date", date_},
                               {"kind", "earned"},
                               {"method", of_.method.empty() ? usual_method() : of_.method},
                               {"description", description()},
                               {"party", processor_},
                               {"amount", quantity::text_of(amount)},
                               {"document", of_.invoice},
                               {"shipment", of_.shipment}});
    }

    void record_cost(quantity::money amount) {
        record_(kind::cost, {{"cost", next_id(file_, kind::cost, "C001")},
                             {"date", date_},
                             {"category", of_.category.empty() ? "contractual" : of_.category},
                             {"description", description()},
                             {"payee", processor_},
                             {"amount", quantity::text_of(amount)},
                             {"fund", of_.fund.empty() ? "grant" : of_.fund},
                             {"source", of_.source},
                             {"document", of_.invoice},
                             {"shipment", of_.shipment}});
    }

    const ledger::ledger_file& file_;
    const settling& of_;
    const intake::record_one& record_;
    std::string date_, processor_, unit_;
};

} // namespace

answer settle(ledger::ledger_file& to, const settling& of, const ledger::surroundings& around) {
    const auto change = intake::record_all(
        to, "settle",
        [&](const intake::record_one& record) {
            settler{to, of, around, record}.settle();
        },
        around, of.once);
    answer made;
    if (change.entries.empty()) {
        made.say("{}\n", change.note.empty() ? "the ledger holds all of it already; nothing was changed" : change.note);
        made.data = {{"note", change.note}};
        return made;
    }
    const season_view seen{ledger::ledger_file::open(to.path())};
    made = settlement_told(seen, of.shipment);
    answer whole;
    whole.data = std::move(made.data);
    auto& entries = whole.data["entries"] = value::array();
    for (const auto entry : change.entries)
        entries.push_back(entry);
    whole.say("recorded by {} {}{}\n\n", change.entries.size() == 1 ? "entry" : "entries", change.entries.front(),
              change.entries.size() == 1 ? "" : fmt::format(" to {}", change.entries.back()));
    whole.say("{}", made.text());
    return whole;
}

} // namespace tarewell::desk
