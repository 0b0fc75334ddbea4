#include "desk/audit.hpp"
#include "office/views.hpp"
#include "render/audit_page.hpp"

namespace tarewell::office {

response show_audit(state& of, const call& from) {
    desk::audit_request request;
    request.quarter = from.query.text("quarter");
    const auto asked = from.query.text("tolerance");
    const auto tolerance = desk::read_tolerance(asked.empty() ? "10%" : asked);
    const auto seen = desk::view_audit(of.kept.opened(), request);
    return page(of, "audit", "What the scale says of the claims",
                {{"tolerance", desk::percent_text(tolerance)},
                 {"days", seen.days_in_words()},
                 {"quarter", request.quarter},
                 {"body", render::audit_pictures(seen, tolerance)},
                 {"total", desk::audit_total(seen).text()},
                 {"bales", desk::audit_bales(seen, 10).text()},
                 {"sites", desk::audit_sites(seen).text()},
                 {"next", desk::audit_next(seen, 10, "total").text()}});
}

} // namespace tarewell::office
