#include "figures/filed_closing.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

#include <array>

namespace tarewell::office {
namespace {

/// A refusal of a closing names the terminal's options; here they are fields of the form.
std::string said_of_fields(std::string line) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 7> words{
        {{", or now with --early 'why'", ", or say in the form why it is closed now"},
         {" with --over-open 'why'", " and say why in the form"},
         {"--early", "the reason for closing before the end"},
         {"--over-open", "the reason for closing over open quarters"},
         {"--prepared-by", "\"Prepared by\""},
         {"--reviewed-by", "\"Reviewed by\""},
         {"--certified-by", "\"Certified by\""}}};
    if (const auto option = line.find(", or accept it with --accept"); option != std::string::npos)
        line.replace(option, std::string::npos, ", or say in the form why it is closed over it");
    for (const auto& [option, field] : words)
        for (auto at = line.find(option); at != std::string::npos; at = line.find(option))
            line.replace(at, option.size(), field);
    return line;
}

} // namespace

response take_closing(state& of, const call& from) {
    const auto period = desk::period_named(from.sent.text("quarter"));
    figures::closing_reasons over{{}, from.sent.text("early"), from.sent.text("over_open")};
    for (const auto& each : from.sent.fields())
        if (each.name.starts_with("accept-") && !each.value.empty()) over.accepted[each.name.substr(7)] = each.value;
    for (const auto& [code, reason] : over.accepted)
        if (!reconcile::blocks_closing(code))
            throw records::input_error(fmt::format("'{}' is no flag that blocks closing", code));
    try {
        (void)figures::close_period(
            of.kept.file(), period,
            {from.sent.text("prepared_by"), from.sent.text("reviewed_by"), from.sent.text("certified_by")}, over,
            of.around);
    } catch (const records::refused& refusal) {
        auto lines = refusal.lines();
        for (auto& each : lines)
            each = said_of_fields(std::move(each));
        throw records::refused(std::move(lines));
    }
    return sent_on("/quarter?quarter=" + in_query(quantity::text_of(period)));
}

response take_withdrawal(state& of, const call& from) {
    const auto period = desk::period_named(from.sent.text("quarter"));
    (void)figures::withdraw_period(of.kept.file(), period, from.sent.text("why"), of.around);
    return sent_on("/quarter?quarter=" + in_query(quantity::text_of(period)));
}

} // namespace tarewell::office
