#include "desk/labels.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::desk {
namespace {

using records::column_type;

struct words_of_kind {
    std::string_view kind, label, one;
};
constexpr words_of_kind kinds[] = {
    {"award", "Award", "the award"},
    {"site", "Site", "a site"},
    {"grower", "Grower", "a grower"},
    {"scale", "Scale", "a scale"},
    {"cover", "Registration", "a cover of a registration"},
    {"bundle", "Bundle", "a bundle"},
    {"receipt", "Site receipt", "a site receipt"},
    {"haul", "Haul between sites", "a bundle of a haul"},
    {"bale", "Bale", "a bundle of a bale"},
    {"reject", "Reject", "a reject"},
    {"shipment", "Shipment", "a bale of a shipment"},
    {"ticket", "Scale ticket", "a scale ticket"},
    {"acceptance", "Processor's acceptance", "a processor's acceptance"},
    {"budget", "Budget line", "a budget line"},
    {"cost", "Cost", "a cost"},
    {"inkind", "In-kind contribution", "an in-kind contribution"},
    {"setting", "Setting", "a setting"},
    {"amendment", "Amendment", "an amendment"},
    {"rebudget", "Budget move", "a budget move"},
    {"rate", "In-kind rate", "an in-kind rate"},
    {"obligation", "Obligation", "an obligation"},
    {"liquidation", "Payment of an obligation", "a payment of an obligation"},
    {"income", "Program income", "program income"},
    {"request", "Reimbursement request", "a cost of a reimbursement request"},
    {"payment", "Payment from the agency", "a payment from the agency"},
    {"note", "Note of a report", "a note of a report"},
    {"confirmation", "Confirmation", "a confirmation"},
    {"merge", "Merged growers", "one person under two ids"},
};

struct words_of_column {
    std::string_view kind, column, label, hint;
};
/// Where the column's own name, with spaces, would not do. A kind's own line stands before that of all kinds.
constexpr words_of_column columns[] = {
    {"ticket", "ticket", "Ticket number", "as it is printed"},
    {"ticket", "weighs", "What was weighed", ""},
    {"ticket", "subject", "Bale, bundle or shipment", "its id"},
    {"ticket", "entry", "Printed or written by hand", ""},
    {"ticket", "as_printed", "The ticket prints it so", "yes, where gross less tare is not the net that it prints"},
    {"ticket", "document", "Scan or photo", "where it is kept"},
    {"cost", "date", "Date incurred", ""},
    {"cost", "fund", "Paid from", ""},
    {"cost", "purpose", "What it was for", "collect, bale, haul, process, or run: the program's own running"},
    {"cost", "site", "For which site", "where it was for one"},
    {"inkind", "purpose", "What it was for", "collect, bale, haul, process, or run: the program's own running"},
    {"cost", "base", "In the indirect base", "out for rental, participant support, patient care, tuition"},
    {"inkind", "giver", "Contributor", ""},
    {"inkind", "inkind", "Contribution number", ""},
    {"inkind", "kind", "What was contributed", ""},
    {"inkind", "amount", "Amount, $", "left empty, it is quantity x rate"},
    {"inkind", "rate", "Rate, $", ""},
    {"receipt", "number", "Number on the label", "with the registration, where the bundle's id is not known"},
    {"receipt", "registration", "Registration on the label", ""},
    {"receipt", "disposition", "Where it went", "where it was not accepted"},
    {"reject", "stage", "Rejected by", ""},
    {"bundle", "number", "Number", "on the label: 1 of 3"},
    {"bundle", "of", "Of how many", ""},
    {"bundle", "estimate", "Estimate of its own", "left empty, it shares the registration's"},
    {"cover", "cover", "Cover", "1, 2, ... within the registration"},
    {"cover", "layers", "Layers", ""},
    {"cover", "mil", "Thickness, mil", ""},
    {"acceptance", "weight", "Weight accepted", ""},
    {"acceptance", "received", "Weight received", "on the processor's scale"},
    {"acceptance", "rejected", "Weight rejected", "of what was received"},
    {"acceptance", "reason", "Why rejected", ""},
    {"acceptance", "price", "Price, $", "what the processor pays; or a charge"},
    {"acceptance", "charge", "Charge, $", "what the processor charges; or a price"},
    {"acceptance", "per", "Price or charge per", "a ton has 2,000 lb, a tonne 1,000 kg"},
    {"cost", "shipment", "Of shipment", "where it was for one"},
    {"income", "shipment", "Of shipment", "where it was earned of one"},
    {"", "length_ft", "Length, ft", ""},
    {"", "width_ft", "Width, ft", ""},
    {"", "rise_ft", "Rise, ft", ""},
    {"", "capacity_lb", "Capacity, lb", ""},
    {"", "amount", "Amount, $", ""},
    {"", "inkind", "Contribution", ""},
    {"", "document", "Source document", "where it is kept"},
    {"", "received_by", "Received by", ""},
    {"", "bill_of_lading", "Bill of lading", ""},
    {"", "paid_on", "Paid on", ""},
};

const words_of_column* known(const records::kind_info& kind, std::string_view column) {
    const words_of_column* found = nullptr;
    for (const auto& each : columns)
        if (each.column == column && (each.kind == kind.name || each.kind.empty()) && found == nullptr) found = &each;
    return found;
}

const words_of_kind* known(const records::kind_info& kind) {
    const auto* found =
        std::find_if(std::begin(kinds), std::end(kinds), [&](const auto& each) { return each.kind == kind.name; });
    return found == std::end(kinds) ? nullptr : found;
}

std::string with_capital(std::string text) {
    std::replace(text.begin(), text.end(), '_', ' ');
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

} // namespace

std::string label_of(const records::kind_info& kind, const records::column& column) {
    if (const auto* words = known(kind, column.name)) return std::string{words->label};
    return with_capital(std::string{column.name});
}

std::string hint_of(const records::kind_info& kind, const records::column& column) {
    if (const auto* words = known(kind, column.name); words != nullptr && !words->hint.empty())
        return std::string{words->hint};
    switch (column.type) {
    case column_type::time:
        return "such as 08:30";
    case column_type::credit:
        return "a credit below 0";
    case column_type::month:
        return "1 to 12";
    default:
        return {};
    }
}

std::string label_of(const records::kind_info& kind) {
    const auto* words = known(kind);
    return words == nullptr ? with_capital(std::string{kind.name}) : std::string{words->label};
}

std::string one_of(const records::kind_info& kind) {
    const auto* words = known(kind);
    return words == nullptr ? fmt::format("a {}", kind.name) : std::string{words->one};
}

} // namespace tarewell::desk
