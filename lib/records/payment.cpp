#include "records/payment.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<payment>;
constexpr std::string_view payment_words[] = {"advance", "reimbursement", "retainage"};
constexpr field<payment> fields[] = {
    a::id<&payment::id>("payment").required(),
    a::date<&payment::date>("date").required(),
    a::one_of<&payment::kind, payment_words>("kind").required(),
    a::unkept("amount", column_type::credit).required(), // below 0: refunded to the agency
    a::names_a<&payment::request, kind::request>("request"),
    a::unkept("retained", column_type::amount),
    a::text<&payment::has_document>("document"),
};
constexpr whole_field<payment> numbers[] = {
    a::cents<&payment::amount>("amount_cents", "amount"),
    a::cents<&payment::retained>("retained_cents", "retained"),
};

} // namespace

constinit const kind_info payment_record =
    kind_made<payment, fields, numbers>({kind::payment, "payment", "payments", "payment", {}, "date"});
constinit const coded_kind payment_coded = coded_made<payment, fields, numbers>(kind::payment);

void check(const payment& made, const season& /*before*/, complaints& say) {
    const bool reimburses = made.kind == payment_kind::reimbursement;
    const auto given_although = [&] {
        return fmt::format("is given although the payment is of kind {}", say.written("kind"));
    };
    if (reimburses && made.request.empty())
        say.say("request", "is empty although the payment is a reimbursement",
                "name the request whose costs it pays; an advance needs none");
    if (!reimburses && !made.request.empty())
        say.say("request", given_although(), "only a reimbursement pays a request");
    if (!reimburses && say.given("retained"))
        say.say("retained", given_although(), "the agency keeps back of a reimbursement only");
}

void admit(payment&& made, season& to) { to.payments.push_back(std::move(made)); }

} // namespace tarewell::records
