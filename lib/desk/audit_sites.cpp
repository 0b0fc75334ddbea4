#include "desk/audit.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

struct site_line {
    std::string id;
    int bundles = 0;
    audit::site_ratio ratio;
    std::string words;
};

std::string words_of(const audit::site_ratio& ratio) {
    if (!ratio.to_bases || ratio.weighed_estimate <= 0) return "too little data";
    if (ratio.to_bases->low > 1) return "weighs more than elsewhere";
    if (ratio.to_bases->high < 1) return "weighs less than elsewhere";
    return "can't be told from elsewhere";
}

std::vector<site_line> lines_of(const audit_view& seen) {
    std::vector<site_line> lines;
    for (const auto& ratio : seen.model.sites())
        lines.push_back({seen.site_id(ratio.site), 0, ratio, words_of(ratio)});
    for (const auto& bundle : seen.input.season.bundles)
        ++lines[static_cast<std::size_t>(bundle.site)].bundles;
    std::sort(lines.begin(), lines.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
    return lines;
}

std::string closing_sentence(const audit_view& seen, const std::vector<site_line>& lines) {
    if (!seen.fitted()) return "Sites can't be compared: " + seen.reason();
    const auto heavy = std::count_if(lines.begin(), lines.end(),
                                     [](const auto& each) { return each.words == "weighs more than elsewhere"; });
    const auto first =
        heavy == 0
            ? std::string{"No site's film surely weighs more than its claims and growers explain. "}
            : fmt::format(
                  "Film from {} weighs more than its claims and growers explain: look for dirt, water or ice there. ",
                  counted(static_cast<std::size_t>(heavy), "site", "sites"));
    return first + "The scale can't tell dirt from water, nor a site from growers who bring to no other site.";
}

} // namespace

answer audit_sites(const audit_view& seen) {
    const auto lines = lines_of(seen);
    const auto sentence = closing_sentence(seen, lines);
    const auto reason = seen.fitted() ? "nothing received there was weighed" : seen.reason();
    table sites{{"site", "bundles", "weighed claim=weighed_estimate", "ratio", "=low", "=high", "=reason",
                 "relative to method=ratio_to_basis", "95 % interval=low_to_basis", "=high_to_basis", "what it says=words"}};
    for (const auto& line : lines) {
        const auto [is, low, high, why_not] = interval_cells(line.ratio.to_claim, reason);
        const auto to_bases = interval_cells(line.ratio.to_bases, {});
        const double weighed = line.ratio.weighed_estimate;
        sites.add({line.id, line.bundles, cell{fmt::format("{:.0f}", weighed), weight_text(weighed)}, is, low, high,
                   why_not, to_bases[0], to_bases[1], to_bases[2], line.words});
    }
    answer made;
    made.data = seen.head();
    made.data["sd_site"] = seen.fitted() ? value{seen.model.fit().sd_site} : value{};
    made.say(
        "Does a site's film run heavy (dirty or wet) or light, from {}; {}.\nRelative to method: the site's weight over "
        "claim against the mean of the bases used there.\n\n",
        seen.weighings_in_words(), seen.days_in_words());
    made.tell("sites", sites);
    if (!seen.fitted()) made.data["reason"] = seen.reason();
    made.data["sentence"] = sentence;
    made.say("\n{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
