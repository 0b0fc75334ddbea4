#include "records/cover.hpp"

#include "records/fields.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<cover_line>;
constexpr field<cover_line> fields[] = {
    a::id<&cover_line::registration_name>("registration").required().shared(),
    a::date<&cover_line::date>("date").required().shared(),
    a::names<&cover_line::grower>("grower").required().shared(),
    a::names<&cover_line::site>("site").required().shared(),
    a::id<&cover::id>("cover").required(),
    a::text<&cover::structure>("structure"),
    a::number<&cover_line::length>("length_ft", column_type::positive),
    a::number<&cover_line::width>("width_ft", column_type::positive),
    a::number<&cover_line::rise>("rise_ft", column_type::positive),
    a::number<&cover_line::layers>("layers", column_type::count),
    a::text<&cover::film>("film"),
    a::number<&cover_line::mil>("mil", column_type::positive),
};

estimate::cover_size size_of(const cover_line& line) {
    const auto feet = [](const decimal& length) { return quantity::feet(length, quantity::length_unit::ft); };
    estimate::cover_size size;
    size.length = feet(*line.length);
    size.width = feet(*line.width);
    if (line.rise) size.rise = feet(*line.rise);
    size.flat = same_but_for_case(line.structure, "flat");
    size.layers = line.layers;
    if (line.mil) size.thickness = quantity::mils{*line.mil};
    return size;
}

/// What one cover with its sizes given is claimed to weigh by itself.
weight claim_of(const cover_line& line, const season& before) {
    const std::array size{size_of(line)};
    return estimate::claimed_weight(size, before.constants_on(line.date), before.the_award->unit);
}

} // namespace

constinit const kind_info cover_kind = kind_made<cover_line, fields, no_numbers<cover_line>>(
    {kind::cover, "cover", "covers", "registration", "cover", "date"});
constinit const coded_kind cover_coded = coded_made<cover_line, fields, no_numbers<cover_line>>(kind::cover);

void check(const cover_line& line, const season& before, complaints& say) {
    const bool any = line.length || line.width || line.layers != 0;
    for (const auto column : {"length_ft", "width_ft", "layers"})
        if (any && !say.given(column))
            say.say(column, "is empty although the cover has other sizes",
                    "give length_ft, width_ft and layers, or none of them");
    if (any && say.good() && !is_within([&] { return claim_of(line, before).count(); }, most_thousandths))
        say.say("length_ft", "the cover's film would weigh more than 999,999,999, which passes what a ledger can hold",
                "mend the cover's sizes");
    const auto place = before.find_registration(line.registration_name.text());
    if (!place) return;
    const auto& known = before.at(place);
    const auto record = fmt::format("registration {}", line.registration_name.text());
    say.agrees("date", quantity::text_of(known.date), record);
    say.agrees("grower", before.at(known.written_for).id.text(), record);
    say.agrees("site", before.at(known.site).id.text(), record);
}

void admit(cover_line&& line, season& to) {
    const auto& name = line.registration_name.text();
    line.registration = registration_place{own_place(to, kind::cover, name)};
    if (!line.registration) {
        line.registration = registration_place{to.registrations.size()};
        to.learn(kind::cover, name, to.registrations.size());
        to.registrations.push_back(
            {line.registration_name, line.date, to.counts_as(line.grower), line.site, {}, {}, line.grower});
    }
    if (line.length && line.width && line.layers != 0) line.size = size_of(line);
    line.gives_thickness = line.mil.has_value();
    to.registrations[line.registration.index()].covers.push_back(to.covers.size());
    to.covers.push_back(std::move(static_cast<cover&>(line)));
}

} // namespace tarewell::records
