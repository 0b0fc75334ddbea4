#include "records/request.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<request_row>;
constexpr field<request_row> fields[] = {
    a::id<&request_row::request>("request").required().shared(),
    a::date<&request_row::date>("date").required().shared(),
    a::names_a<&request_row::cost, kind::cost>("cost").required().together().looked_at(),
    a::unkept("indirect", column_type::amount).shared(),
    a::text<&request_row::document>("document").shared(),
};
constexpr whole_field<request_row> numbers[] = {a::cents<&request_row::indirect>("indirect_cents", "indirect")};

} // namespace

constinit const kind_info request_kind =
    kind_made<request_row, fields, numbers>({kind::request, "request", "requests", "request", "cost", "date"});
constinit const coded_kind request_coded = coded_made<request_row, fields, numbers>(kind::request);

void check(const request_row& made, const season& before, complaints& say) {
    const auto& claimed = before.costs[made.cost];
    if (claimed.fund != fund::grant)
        say.say("cost", fmt::format("cost {} is on match", quoted(claimed.id)), "a request claims costs on the grant");
    if (claimed.claimed_in)
        say.say("cost",
                fmt::format("cost {} is claimed in request {} already", quoted(claimed.id),
                            quoted(before.requests[*claimed.claimed_in].request)),
                "a cost is claimed once; mend the id, or void the other row");
    const auto* known = before.find_request(made.request);
    if (known == nullptr) return;
    const auto record = fmt::format("request {}", made.request);
    const auto indirect =
        say.given("indirect") ? quantity::money_from(quantity::decimal_of(say.written("indirect"))) : money{};
    say.agrees("date", quantity::text_of(known->date), record);
    if (indirect != known->indirect) say.agrees("indirect", quantity::text_of(known->indirect), record);
    say.agrees("document", known->document, record);
}

void admit(request_row&& made, season& to) {
    to.costs[made.cost].claimed_in = to.requests.size();
    to.learn(kind::request, made.request, to.requests.size());
    to.requests.push_back(std::move(made));
}

} // namespace tarewell::records
