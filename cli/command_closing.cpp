#include "closing.hpp"
#include "desk/quarter.hpp"
#include "figures/filed_closing.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct close_options {
    std::string quarter;
    figures::closing_signatures signatures;
    std::vector<std::string> accepted;
    std::string early, over_open;
};

void run_close(const close_options& how, context& with) {
    figures::closing_reasons over{{}, how.early, how.over_open};
    for (const auto& each : how.accepted) {
        const auto equals = each.find('=');
        const auto code = each.substr(0, equals);
        if (equals == std::string::npos || !reconcile::blocks_closing(code))
            throw records::input_error(
                fmt::format("--accept {}: write a flag that blocks closing and the reason, such as "
                            "--accept net-as-printed='the yard confirms it'; see: tarewell flags --codes",
                            each));
        over.accepted[code] = each.substr(equals + 1);
    }
    auto file = with.open();
    const auto period = desk::period_named(how.quarter);
    const auto entry = figures::close_period(file, period, how.signatures, over, with.writing());
    with.out << fmt::format("closed {} by entry {}; its report stands as of entry {}\nhead {}\n", how.quarter, entry,
                            entry - 1, ledger::hex(file.head_at(entry - 1).hash));
    for (const auto& each : figures::remarks_of(*figures::filed_at(file, period, entry - 1)))
        with.err << fmt::format("stands on the certification: {}: {}\n", each.what, each.text);
}

struct withdraw_options {
    std::string quarter, why;
};

void run_withdraw(const withdraw_options& how, context& with) {
    auto file = with.open();
    const auto period = desk::period_named(how.quarter);
    const auto filed_as_of = figures::as_of_period(file, period);
    const auto entry = figures::withdraw_period(file, period, how.why, with.writing());
    with.out << fmt::format("withdrew the closing of {0} by entry {1}; the {3} is open again\n"
                            "what was filed prints as of its entry: tarewell quarter workbook {0} FILE --as-of {2}\n",
                            how.quarter, entry, filed_as_of, period.word());
}

struct restate_options {
    std::string quarter;
    std::optional<records::entry_no> as_of;
};

void run_restate(const restate_options& how, context& with) {
    with.print(desk::restatements_of(desk::looked_at{with.open()}, how.quarter, how.as_of));
}

} // namespace

void add_closing(const command& quarter, context& with) {
    auto close = quarter.add(
        "close",
        "close a quarter, a year (2026) or final: from then on its report can be printed again, byte for byte");
    auto& how = quarter.keep<close_options>();
    close.value("QUARTER", how.quarter, "such as 2026-Q3, 2026 or final").required();
    close.value("--prepared-by", how.signatures.prepared_by, "the person who prepared the report").required();
    close.value("--reviewed-by", how.signatures.reviewed_by, "the person who reviewed it; another one").required();
    close.value("--certified-by", how.signatures.certified_by, "the person who certifies it").required();
    close.value("--accept", how.accepted, "FLAG='why': close over a flag that blocks closing").one_at_a_time().many();
    close.value("--early", how.early, "close before it is over: why");
    close.value("--over-open", how.over_open, "close a year or final while quarters of it are open: why");
    close.does([&how, &with] { run_close(how, with); });
    auto withdraw = quarter.add("withdraw", "take a closing back; what was filed can still be printed");
    auto& back = quarter.keep<withdraw_options>();
    withdraw.value("QUARTER", back.quarter, "such as 2026-Q3, 2026 or final").required();
    withdraw.value("--why", back.why, "why, in a sentence").required();
    withdraw.does([&back, &with] { run_withdraw(back, with); });
    auto restate =
        quarter.add("restate", "what changed since a quarter, a year or final was closed (exit 1 when anything did)");
    auto& again = quarter.keep<restate_options>();
    restate.value("QUARTER", again.quarter, "such as 2026-Q3, 2026 or final").required();
    restate.value("--as-of", again.as_of, "as the ledger stood after this entry");
    restate.flag("--json", with.json, "JSON output");
    restate.does([&again, &with] { run_restate(again, with); });
}

} // namespace tarewell::cli
