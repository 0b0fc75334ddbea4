#include "figures/period_note.hpp"

#include <fmt/format.h>

namespace tarewell::figures {

std::string period_note(const records::season& season, const basis& on) {
    if (on.period.is != quantity::period::kind::whole_award || on.days.from >= season.the_award->begins) return {};
    return fmt::format("from the first record on; the award begins on {}, and what is dated before it is flagged",
                       quantity::text_of(season.the_award->begins));
}

} // namespace tarewell::figures
