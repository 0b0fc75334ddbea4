#include "records/bale.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<bale_line>;
constexpr field<bale_line> fields[] = {
    a::id<&bale_line::id>("bale").required().shared(),
    a::date<&bale_line::date>("date").required().shared(),
    a::names<&bale_line::site>("site").required().shared(),
    a::names<&bale_row::bundle>("bundle").required().together(),
};

} // namespace

constinit const kind_info bale_kind =
    kind_made<bale_line, fields, no_numbers<bale_line>>({kind::bale, "bale", "bales", "bale", "bundle", "date"});
constinit const coded_kind bale_coded = coded_made<bale_line, fields, no_numbers<bale_line>>(kind::bale);

void check(const bale_line& line, const season& before, complaints& say) {
    if (const auto other = before.at(line.bundle).pressed_in)
        say.say("bundle",
                fmt::format("bundle {} is in bale {} already", quoted(say.written("bundle")),
                            quoted(before.at(other).id.text())),
                "a bundle is in one bale; mend the id, or void the other row");
    const auto place = before.find_bale(line.id.text());
    if (!place) return;
    const auto record = fmt::format("bale {}", line.id.text());
    say.agrees("date", quantity::text_of(before.at(place).date), record);
    say.agrees("site", before.at(before.at(place).site).id.text(), record);
}

void admit(bale_line&& line, season& to) {
    line.bale = bale_place{own_place(to, kind::bale, line.id.text())};
    if (!line.bale) {
        line.bale = bale_place{to.bales.size()};
        to.keep(kind::bale, to.bales, bale{line.id, line.date, line.site, {}, line.entry, {}});
    }
    to.bales[line.bale.index()].bundles.push_back(line.bundle);
    to.bundles[line.bundle.index()].pressed_in = line.bale;
    to.bale_rows.push_back(line);
}

} // namespace tarewell::records
