#include "records/rate.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<rate>;
constexpr field<rate> fields[] = {
    a::id<&rate::id>("rate").required(),
    a::one_of<&rate::kind, inkind_words>("kind").required(),
    a::text<&rate::what>("what"),
    a::date<&rate::begins>("begins").required(),
    a::number<&rate::value>("value", column_type::nonnegative).required(),
    a::text<&rate::source>("source").required(),
};

constexpr kind_info made() {
    auto info = kind_made<rate, fields, no_numbers<rate>>({kind::rate, "rate", "rates", "rate", {}, "begins"});
    info.seen_whole = true;
    return info;
}

} // namespace

constinit const kind_info rate_kind = made();
constinit const coded_kind rate_coded = coded_made<rate, fields, no_numbers<rate>>(kind::rate);

void check(const rate& made, const season& before, complaints& say) {
    for (const auto& each : before.rates) {
        if (each.kind != made.kind || each.what != made.what || each.begins != made.begins) continue;
        return say.say("begins",
                       fmt::format("rate {} says what {} counts from {} already", quoted(each.id),
                                   made.what.empty() ? made.kind : made.what, quantity::text_of(made.begins)),
                       "one rate for each kind, use and day; correct the other, or name the use in what");
    }
}

void admit(rate&& made, season& to) { to.rates.push_back(std::move(made)); }

} // namespace tarewell::records
