#include "figures/make_columns.hpp"
#include "figures/table_maker.hpp"
#include "grant/financial.hpp"

#include <set>

namespace tarewell::figures {

using namespace records; // NOLINT

namespace {

cell maybe_text(const std::string& given) { return given.empty() ? cell{} : cell{given}; }

const char* name_of(fund of) { return of == fund::grant ? "grant" : "match"; }

const char* method_of(const income& of) {
    if (of.method == income_method::deduction) return "deduction";
    if (of.method == income_method::addition) return "addition";
    return of.cost.empty() ? "match" : "match, in its cost";
}

const char* name_of(payment_kind of) {
    return of == payment_kind::advance ? "advance" : of == payment_kind::reimbursement ? "reimbursement" : "retainage";
}

} // namespace

table table_maker::requests() const {
    table made{"Requests",
               "Every cost claimed in a reimbursement request, and the indirect costs claimed with it.",
               {words("request", "Request"), date_column("date", "Date"), words("claims", "Claims"),
                words("category", "Category"), dollars("amount", "Amount")},
               {}};
    std::set<std::string> seen;
    for (const auto& each : s_.requests) {
        const auto& cost = s_.costs[each.cost];
        made.rows.push_back(
            row_of(each.request, each.date, "cost " + cost.id, cost.category, grant::claimed_of(s_, each)));
        if (seen.insert(each.request).second && each.indirect.count() != 0)
            made.rows.push_back(
                {each.request, each.date, std::string{"indirect costs"}, std::string{"indirect"}, each.indirect});
    }
    return made;
}

table table_maker::payments() const {
    table made{"Payments",
               "Every payment from the agency, and what it withheld of reimbursements; a refund to it is below 0.",
               {words("payment", "Payment"), date_column("date", "Date"), words("kind", "Kind"),
                words("request", "Request"), dollars("amount", "Amount"), dollars("retained", "Withheld")},
               {}};
    for (const auto& each : s_.payments)
        made.rows.push_back(row_of(each.id, each.date, std::string{name_of(each.kind)}, maybe_text(each.request),
                                   each.amount, each.retained));
    return made;
}

table table_maker::obligations() const {
    table made{"Obligations",
               "Every obligation, and below 0 what of it became a cost or was deobligated, on the day that counts.",
               {words("record", "Record"), date_column("date", "Date"), date_column("counted_on", "Counted on"),
                words("obligation", "Obligation"), words("category", "Category"), words("description", "Description"),
                words("fund", "Fund"), dollars("amount", "Amount")},
               {}};
    for (const auto& each : s_.obligations)
        made.rows.push_back(row_of("obligation " + each.id, each.date, each.date, each.id, each.category,
                                   each.description, std::string{name_of(each.fund)}, each.amount));
    for (const auto& each : s_.liquidations) {
        const auto& of = s_.obligations[each.obligation];
        made.rows.push_back(row_of("liquidation " + each.id, each.date, grant::counted_on(s_, each), of.id, of.category,
                                   each.cost.empty() ? std::string{"deobligated"} : "paid as cost " + each.cost,
                                   std::string{name_of(of.fund)}, -each.amount));
    }
    return made;
}

table table_maker::program_income() const {
    table made{"Program income",
               "Every amount of program income earned or spent, and how the award treats it.",
               {words("income", "Income"),
                date_column("date", "Date"),
                words("kind", "Kind"),
                words("method", "Method"),
                words("description", "Description"),
                words("cost", "Cost paid"),
                {"amount", "Amount", content::dollars, false}},
               {}};
    for (const auto& each : s_.incomes)
        made.rows.push_back(row_of(each.id, each.date, std::string{each.earned ? "earned" : "spent"},
                                   std::string{method_of(each)}, each.description, maybe_text(each.cost), each.amount));
    return made;
}

} // namespace tarewell::figures
