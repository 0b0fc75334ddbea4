#include "desk/settlement.hpp"
#include "desk/settling.hpp"
#include "names.hpp"

namespace tarewell::cli {
namespace {

struct options {
    desk::settling told;
    bool by_processor = false;

    [[nodiscard]] bool records() const {
        const auto& t = told;
        for (const auto* each : {&t.date, &t.received, &t.rejected, &t.weight, &t.unit, &t.reason, &t.bale,
                                 &t.disposition, &t.price, &t.charge, &t.per, &t.amount, &t.invoice, &t.document,
                                 &t.method, &t.category, &t.fund, &t.source, &t.once})
            if (!each->empty()) return true;
        return false;
    }
};

void run_settle(const options& how, context& with) {
    auto told = how.told;
    auto file = with.open();
    if (told.shipment.empty()) {
        if (how.records()) throw missing_argument{"SHIPMENT"};
        const desk::season_view seen{std::move(file)};
        return with.print(how.by_processor ? desk::processors_told(seen) : desk::settlements_listed(seen));
    }
    told.shipment = id_meant(file, records::kind::shipment, told.shipment, with);
    if (!how.records()) return with.print(desk::settlement_told(desk::season_view{std::move(file)}, told.shipment));
    if (!told.bale.empty()) told.bale = id_meant(file, records::kind::bale, told.bale, with);
    with.print(desk::settle(file, told, with.writing()));
}

} // namespace

void add_settle(const command& program, context& with) {
    auto sub = program.add("settle", "a shipment's settlement: shipped, received, rejected, accepted, paid; shows or "
                                     "records it");
    auto& how = program.keep<options>();
    auto& told = how.told;
    auto shipment = sub.value("SHIPMENT", told.shipment, "its id; alone, its whole paper; without one, all shipments");
    sub.flag("--by-processor", how.by_processor, "each processor's shipments by quarter").excludes(shipment);
    const auto takes = [&](const char* name, std::string& into, const char* what) {
        return sub.value(name, into, what).needs(shipment);
    };
    takes("--date", told.date, "the settlement's day (today)");
    takes("--received", told.received, "weight by the processor's scale");
    takes("--rejected", told.rejected, "what it rejected of that");
    takes("--weight", told.weight, "what it accepted (received less rejected)");
    takes("--unit", told.unit, "of these weights (the award's)").one_of({"lb", "kg"});
    takes("--reason", told.reason, "why it rejected");
    takes("--bale", told.bale, "the bale it rejected that from: recorded as a reject, too");
    takes("--disposition", told.disposition, "what became of it: returned, landfilled, elsewhere");
    auto price = takes("--price", told.price, "dollars that the processor pays");
    takes("--charge", told.charge, "dollars that the processor charges").excludes(price);
    takes("--per", told.per, "lb, kg, ton (2,000 lb) or tonne (the weights' unit)")
        .one_of({"lb", "kg", "ton", "tonne"});
    takes("--amount", told.amount, "as the invoice says; refused where price x weight is another sum");
    takes("--invoice", told.invoice, "number of the invoice or check");
    takes("--document", told.document, "the settlement's own number");
    takes("--method", told.method, "of income: deduction, addition, match (as before)")
        .one_of({"deduction", "addition", "match"});
    takes("--category", told.category, "of the cost (contractual)");
    takes("--fund", told.fund, "of the cost: grant, match (grant)").one_of({"grant", "match"});
    takes("--source", told.source, "of a cost on match: who pays it");
    takes("--once", told.once, "a key of your own: the same key again changes nothing");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_settle(how, with); });
}

} // namespace tarewell::cli
