#include "desk/audit.hpp"
#include "office/views.hpp"
#include "render/audit_page.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

value worked_out(const std::string& path, const desk::audit_request& request, double tolerance) {
    const auto seen = desk::view_audit(ledger::ledger_file::open(path), request);
    return {{"tolerance", desk::percent_text(tolerance)},
            {"days", seen.days_in_words()},
            {"quarter", request.quarter},
            {"body", render::audit_pictures(seen, tolerance)},
            {"total", desk::audit_total(seen).text()},
            {"bales", desk::audit_bales(seen, 10).text()},
            {"sites", desk::audit_sites(seen).text()},
            {"next", desk::audit_next(seen, 10, "total").text()}};
}

} // namespace

response show_audit(state& of, const call& from) {
    const auto head = of.kept.file().head();
    desk::audit_request request;
    request.quarter = from.query.text("quarter");
    request.as_of = head.seq;
    const auto asked = from.query.text("tolerance");
    const auto tolerance = desk::read_tolerance(asked.empty() ? "10%" : asked);
    auto data =
        of.apart.answer(fmt::format("{} {} {}", ledger::hex(head.hash), request.quarter, tolerance),
                        [path = of.kept.path(), request, tolerance] { return worked_out(path, request, tolerance); });
    if (data) return page(of, "audit", "What the scale says of the claims", std::move(*data));
    auto wait = page(of, "working", "The audit is being worked out", {{"again", from.asked.target}});
    wait.headers.emplace_back("refresh", "2");
    return wait;
}

} // namespace tarewell::office
