#include "figures/cover_stories.hpp"
#include "figures/fair_audit.hpp"
#include "figures/stories.hpp"
#include "render/page_parts.hpp"

#include <algorithm>

namespace tarewell::render::parts {
namespace {

value story_part(const figures::site_story& of) {
    return {{"bundles", count_text(of.bundles)},         {"estimate", words_in(of.estimate)},
            {"growers", count_text(of.growers)},         {"rejected", count_text(of.rejected)},
            {"scale_weight", words_in(of.scale_weight)}, {"tons", tons_text(of.tons)}};
}

value bundle_part(const figures::bundle_story& of) {
    return {{"bundle", of.bundle},
            {"registration", of.registration},
            {"number", count_text(of.number)},
            {"of", count_text(of.of)},
            {"registered_on", quantity::text_of(of.registered_on)},
            {"estimate", words_in(of.estimate)},
            {"received_on", text_or_none(of.received_on)},
            {"received_at", text_or_none(of.received_at)},
            {"rejected_on", text_or_none(of.rejected_on)},
            {"reason", text_or_none(of.reason)},
            {"bale", text_or_none(of.bale)},
            {"weighed_on", text_or_none(of.weighed_on)},
            {"share", of.share ? value(words_in(*of.share)) : value{}}};
}

value cover_part(const figures::cover_story& of) {
    return {{"registration", of.registration},
            {"cover", of.cover},
            {"structure", text_or_none(of.structure)},
            {"size", text_or_none(of.size)},
            {"shape", text_or_none(of.shape)},
            {"film", text_or_none(of.film)},
            {"claimed", of.claimed}};
}

/// The audit's share of the grower by all that was weighed through the last day, in the words of a letter; null where
/// nothing can be said.
value share_by_the_scale(const page_input& in) {
    const auto input = figures::audit_input_of(in.season, in.reckoning,
                                               quantity::span_of_days{quantity::day::min(), in.report.basis.days.to});
    const auto place = std::find(input.growers.begin(), input.growers.end(), in.grower);
    if (place == input.growers.end()) return {};
    const auto grower = static_cast<int>(place - input.growers.begin());
    const auto fair = figures::fair_audit_of(input, in.season);
    if (!figures::has_ratio(fair, grower)) return {};
    return figures::share_in_words(fair.report.growers[static_cast<std::size_t>(grower)],
                                   std::string{quantity::name_of(in.season.the_award->unit)});
}

value percent(const std::optional<figures::real>& ratio) { return ratio ? value(percent_text(*ratio)) : value{}; }

} // namespace

value site_sheet_part(const page_input& in) {
    const auto& site = in.season.at(in.site);
    const auto days = in.report.basis.days;
    const auto to_date = figures::story_of(in.site, in.season, in.reckoning, {quantity::day::min(), days.to});
    return {{"id", site.id.text()},
            {"name", site.name},
            {"town", text_or_none(site.town)},
            {"host", text_or_none(site.host)},
            {"in_quarter", story_part(figures::story_of(in.site, in.season, in.reckoning, days))},
            {"to_date", story_part(to_date)}};
}

value grower_sheet_part(const page_input& in) {
    const auto& grower = in.season.at(in.grower);
    const auto story = figures::story_of(in.grower, in.season, in.reckoning, in.report.basis.days.to);
    const bool named = in.with_names && !grower.erased;
    value sheet{{"id", grower.id.text()},
                {"name", named                            ? text_or_none(grower.name)
                         : in.with_names && grower.erased ? value("(erased on request)")
                                                          : value{}},
                {"farm", named ? text_or_none(grower.farm) : value{}},
                {"registered", count_text(story.registered)},
                {"registered_estimate", words_in(story.registered_estimate)},
                {"received", count_text(story.received)},
                {"received_estimate", words_in(story.received_estimate)},
                {"rejected", count_text(story.rejected)},
                {"weighed", count_text(story.weighed)},
                {"weighed_estimate", words_in(story.weighed_estimate)},
                {"share", words_in(story.share)},
                {"difference", words_in(story.difference())},
                {"ratio", percent(story.ratio)},
                {"program_ratio", percent(story.program_ratio)},
                {"bales", count_text(story.bales)},
                {"mixed_bales", count_text(story.mixed_bales)}};
    value bundles = value::array();
    for (const auto& each : story.bundles)
        bundles.push_back(bundle_part(each));
    put_list(sheet, "bundles", std::move(bundles));
    value covers = value::array();
    for (const auto& each : figures::cover_stories_of(in.grower, in.season, in.reckoning, in.report.basis.days.to))
        covers.push_back(cover_part(each));
    put_list(sheet, "covers", std::move(covers));
    sheet["has_weighed"] = story.weighed > 0;
    sheet["has_rejected"] = story.rejected > 0;
    sheet["scale_share"] = share_by_the_scale(in);
    return sheet;
}

} // namespace tarewell::render::parts
