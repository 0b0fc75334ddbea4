#include "context.hpp"
#include "desk/quarter.hpp"

namespace tarewell::cli {
namespace {

struct options {
    std::string by = "bale", quarter;
    std::optional<records::entry_no> as_of;
};

} // namespace

void add_reconcile(const command& program, context& with) {
    auto sub = program.add("reconcile", "estimate, receipt, bale and scale side by side");
    auto& how = program.keep<options>();
    sub.value("--by", how.by, "bale, grower, site, registration, town, structure or film")
        .one_of({"bale", "grower", "site", "registration", "town", "structure", "film"});
    sub.value("--quarter", how.quarter, "only what is dated in this quarter, year or span");
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] {
        with.print(desk::reconciled(desk::season_view{with.open(), how.as_of}, how.by, how.quarter));
    });
}

} // namespace tarewell::cli
