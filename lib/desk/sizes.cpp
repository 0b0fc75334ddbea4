#include "desk/sizes.hpp"

#include "desk/registered.hpp"
#include "intake/change_all.hpp"
#include "ledger/load_season.hpp"

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

intake::named_values given_of(const cover_told& cover) {
    intake::named_values given;
    for (const auto& [name, text] : {std::pair{"length_ft", cover.length},
                                     {"width_ft", cover.width},
                                     {"rise_ft", cover.rise},
                                     {"layers", cover.layers},
                                     {"mil", cover.mil},
                                     {"structure", cover.structure},
                                     {"film", cover.film}})
        if (!text.empty()) given[name] = text;
    return given;
}

/// Bundles whose own estimate is the usual weight, which nobody measured.
std::vector<std::string> guessed(const season& of, const registration& from) {
    const auto usual =
        quantity::weight_from(of.number_on("bundle_aim_lb", from.date), quantity::weight_unit::lb, of.the_award->unit);
    std::vector<std::string> ids;
    for (const auto each : from.bundles)
        if (of.at(each).own_estimate == usual) ids.push_back(of.at(each).id.text());
    return ids;
}

/// Into the covers that are there, one after another; what is over becomes further covers.
void put_sizes(const season& of, const registration& from, const std::vector<cover_told>& covers,
               const intake::deeds& may) {
    const auto& id = from.id.text();
    for (std::size_t i = 0; i < covers.size(); ++i) {
        auto given = given_of(covers[i]);
        if (i < from.covers.size()) {
            may.correct(kind::cover, {id, of.covers[from.covers[i]].id}, given);
            continue;
        }
        given.merge(intake::named_values{{"registration", id},
                                         {"date", quantity::text_of(from.date)},
                                         {"grower", of.at(from.written_for).id.text()},
                                         {"site", of.at(from.site).id.text()},
                                         {"cover", std::to_string(i + 1)}});
        may.record(kind::cover, given);
    }
    for (const auto& bundle : guessed(of, from))
        may.correct(kind::bundle, {bundle}, {{"estimate", ""}, {"unit", ""}});
}

} // namespace

answer sizes_told(ledger::ledger_file& file, const std::string& id, const std::vector<cover_told>& covers,
                  const std::string& why, const ledger::surroundings& around) {
    if (covers.empty()) throw input_error("no size is told; give each cover's as --cover 96x30");
    registered_call made;
    const auto change = intake::change_all(
        file, "register sizes",
        [&](const intake::deeds& may) {
            const auto of = ledger::load_season(file, file.head().seq);
            const auto place = of.find_registration(id);
            if (!place) throw input_error(none_found(kind::cover, id, find(of, kind::cover, id).near));
            const auto& from = of.at(place);
            made = {id, of.at(from.grower).id.text(), of.at(from.site).id.text(), quantity::text_of(from.date)};
            put_sizes(of, from, covers, may);
        },
        around, {}, why);
    if (!change.entries.empty()) {
        made.entries = change.entries;
        return told_of(file, made);
    }
    answer nothing;
    nothing.say("the ledger holds these sizes already; nothing was changed\n");
    nothing.data = {{"note", "nothing was changed"}};
    return nothing;
}

} // namespace tarewell::desk
