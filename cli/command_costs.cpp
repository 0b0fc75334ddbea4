#include "closing.hpp"
#include "desk/periods.hpp"

namespace tarewell::cli {
namespace {

struct costs_options {
    std::string period = "final";
    std::optional<records::entry_no> as_of;
};

} // namespace

void add_costs(const command& program, context& with) {
    auto sub = program.add("costs", "what a ton costs by purpose and by site, volunteers' hours, and the next ton");
    auto& how = program.keep<costs_options>();
    sub.value("PERIOD", how.period, std::string{one_of_periods} + "; final when not given");
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { with.print(desk::costs_of(desk::view_quarter(with.open(), how.period, how.as_of))); });
}

} // namespace tarewell::cli
