#include "records/acceptance.hpp"

#include "records/billionths.hpp"
#include "records/fields.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace tarewell::records {
namespace {

constexpr std::string_view per_words[] = {"lb", "kg", "ton", "tonne"};

using a = fields_of<acceptance>;
constexpr field<acceptance> fields[] = {
    a::names<&acceptance::shipment>("shipment").required(),
    a::date<&acceptance::date>("date").required(),
    a::number<&acceptance::written_weight>("weight", column_type::nonnegative).required(),
    a::one_of<&acceptance::unit, unit_words>("unit").required(),
    a::text<&acceptance::document>("document"),
    a::number<&acceptance::received>("received", column_type::nonnegative).later(),
    a::number<&acceptance::rejected>("rejected", column_type::nonnegative).later(),
    a::text<&acceptance::reason>("reason").later(),
    a::number<&acceptance::price>("price", column_type::nonnegative).later(),
    a::number<&acceptance::charge>("charge", column_type::nonnegative).later(),
    a::one_of<&acceptance::per, per_words>("per").later(),
};
constexpr whole_field<acceptance> numbers[] = {
    a::weight<&acceptance::accepted_weight>("weight_thousandths", "weight", "unit"),
};

using quantity::wide;

/// A weight's unit over the price's: what a pound is in tons, and so on, exactly.
quantity::fraction units_in(weight_unit in, price_unit per) {
    constexpr std::int64_t lb_a_ton = 2'000, kg_a_tonne = 1'000, e8 = 100'000'000;
    const bool in_lb = in == quantity::weight_unit::lb;
    const bool per_lb = per == price_unit::lb || per == price_unit::ton;
    const wide many = per == price_unit::ton ? lb_a_ton : per == price_unit::tonne ? kg_a_tonne : 1;
    if (in_lb == per_lb) return {1, many};
    if (in_lb) return {quantity::kg_per_lb_e8, many * e8};
    return {e8, many * quantity::kg_per_lb_e8};
}

wide product(wide left, wide right) {
    wide made = 0;
    if (__builtin_mul_overflow(left, right, &made)) throw std::overflow_error("a price or a weight has too many digits");
    return made;
}

} // namespace

constinit const kind_info acceptance_kind =
    kind_made<acceptance, fields, numbers>({kind::acceptance, "acceptance", "acceptances", "shipment", {}, "date"});
constinit const coded_kind acceptance_coded = coded_made<acceptance, fields, numbers>(kind::acceptance);

std::string_view name_of(price_unit unit) { return per_words[static_cast<std::size_t>(unit)]; }

money price_of(const decimal& of, weight_unit in, const decimal& price, price_unit per) {
    const auto ratio = units_in(in, per);
    const auto cents = product(product(product(of.mantissa, price.mantissa), ratio.numerator), 100);
    const auto parts = product(ratio.denominator, quantity::power_of_ten(of.scale + price.scale));
    return money{quantity::half_up(cents, parts)};
}

std::optional<money> asked_for(const acceptance& made) {
    const auto& price = made.price ? made.price : made.charge;
    if (!price) return std::nullopt;
    return price_of(made.written_weight, made.unit, *price, made.per);
}

void check(const acceptance& made, const season& /*before*/, complaints& say) {
    if (made.price && made.charge)
        say.say("charge", "is given, and so is price", "the processor pays a price or makes a charge; leave one empty");
    else if ((made.price || made.charge) != say.given("per"))
        say.say("per",
                say.given("per") ? "is given without a price or charge" : "is empty, and a price or charge given",
                "give both, as in 0.04 per lb");
    else if (!is_within([&] { return asked_for(made).value_or(money{}).count(); }, most_cents))
        say.say(made.price ? "price" : "charge", "times the weight passes what a ledger can hold",
                "an amount is at most 999999999.99; mend price or weight");
    if (!made.received || !made.rejected) return;
    const auto difference = billionths(*made.received) - billionths(*made.rejected);
    const auto accepted = quantity::decimal_of(say.written("weight"));
    if (difference == billionths(accepted)) return;
    say.say("weight",
            fmt::format("{} is not received {} less rejected {}, which is {}", say.written("weight"),
                        say.written("received"), say.written("rejected"),
                        quantity::shortest_text({static_cast<std::int64_t>(difference), 9})),
            "mend the number that the settlement prints otherwise");
}

void admit(acceptance&& made, season& to) {
    to.shipments[made.shipment.index()].accepted_on = made.date;
    to.acceptances.push_back(made);
}

} // namespace tarewell::records
