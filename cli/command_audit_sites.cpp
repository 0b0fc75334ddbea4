#include "audit_view.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct site_line {
    std::string id;
    int bundles = 0;
    audit::site_ratio ratio;
    std::string words;
};

std::string words_of(const audit::site_ratio& ratio) {
    if (!ratio.to_bases || ratio.weighed_estimate <= 0) return "can't tell yet";
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

void run_sites(const audit_request& request, context& with) {
    const auto seen = view_audit(request, with);
    const auto lines = lines_of(seen);
    const auto sentence = closing_sentence(seen, lines);
    if (request.json) {
        auto made = seen.head();
        made["sd_site"] = seen.fitted() ? number(seen.model.fit().sd_site) : json(nullptr);
        auto& list = made["sites"] = json::array();
        for (const auto& line : lines) {
            json each{{"site", line.id},
                      {"bundles", line.bundles},
                      {"weighed_estimate", weight_text(line.ratio.weighed_estimate)}};
            put_interval(each, line.ratio.to_claim,
                         seen.fitted() ? "nothing received there was weighed" : seen.reason());
            each["ratio_to_basis"] = line.ratio.to_bases ? number(line.ratio.to_bases->ratio) : json(nullptr);
            each["low_to_basis"] = line.ratio.to_bases ? number(line.ratio.to_bases->low) : json(nullptr);
            each["high_to_basis"] = line.ratio.to_bases ? number(line.ratio.to_bases->high) : json(nullptr);
            each["words"] = line.words;
            list.push_back(std::move(each));
        }
        if (!seen.fitted()) made["reason"] = seen.reason();
        made["sentence"] = sentence;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << fmt::format(
        "Does a site's film run heavy (dirty or wet) or light, from {}; {}.\n\"To basis\" is the site's weight over "
        "claim against the mean of the bases used there.\n\n",
        seen.weighings_in_words(), seen.days_in_words());
    text_table table{{"site", "bundles", "weighed claim", "ratio", "to basis", "interval", "what it says"}};
    for (const auto& line : lines)
        table.add({line.id, fmt::format("{}", line.bundles), fmt::format("{:.0f}", line.ratio.weighed_estimate),
                   ratio_text(line.ratio.to_claim), ratio_text(line.ratio.to_bases), interval_text(line.ratio.to_bases),
                   line.words});
    table.print(with.out);
    with.out << '\n' << sentence << '\n';
}

} // namespace

void add_audit_sites(const command& audit, context& with) {
    auto sub = audit.add("sites", "whether a site's film runs dirty or wet");
    auto& request = audit.keep<audit_request>();
    add_audit_options(sub, request);
    sub.does([&request, &with] { run_sites(request, with); });
}

} // namespace tarewell::cli
