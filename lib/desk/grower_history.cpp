#include "desk/grower_history.hpp"

#include "desk/find.hpp"
#include "records/letters.hpp"

#include <algorithm>
#include <filesystem>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

struct season_of_grower {
    std::size_t registrations = 0, bundles = 0, accepted = 0, rejected = 0, weighed = 0;
    quantity::weight claimed, claimed_of_weighed, share;
};

season_of_grower season_of(const season_view& seen, grower_place person) {
    season_of_grower made;
    const auto& of = seen.season;
    for (const auto& each : of.registrations) {
        if (each.grower != person) continue;
        ++made.registrations;
        for (const auto place : each.bundles) {
            const auto& bundle = seen.reckoning.at(place);
            ++made.bundles;
            made.claimed += bundle.claim.estimate;
            if (bundle.accepting_receipt) ++made.accepted;
            if (!bundle.rejections.empty()) ++made.rejected;
            if (!bundle.share) continue;
            ++made.weighed;
            made.claimed_of_weighed += bundle.claim.estimate;
            made.share += *bundle.share;
        }
    }
    return made;
}

bool is_same(const grower& a, const grower& b) { return letters_of(folded(a.name)) == letters_of(folded(b.name)); }

/// The same person in another ledger; nowhere where it is not sure, and `why` says so.
grower_place same_person(const grower& person, const season& other, std::string& why) {
    if (const auto by_id = other.find_grower(person.id.text())) {
        if (other.at(by_id).erased) {
            why = "the details of this id were erased there on request";
            return {};
        }
        if (is_same(person, other.at(by_id))) return other.counts_as(by_id);
    }
    std::vector<grower_place> like;
    for (std::size_t i = 1; i < other.growers.size(); ++i) {
        const auto& each = other.growers[i];
        const auto phone = digits_of(person.phone);
        if (each.erased) continue;
        if (is_same(person, each) || (!phone.empty() && phone == digits_of(each.phone)) ||
            (!person.email.empty() && letters_of(person.email) == letters_of(each.email)))
            like.push_back(other.counts_as(grower_place{i}));
    }
    std::sort(like.begin(), like.end(), [](auto a, auto b) { return a.index() < b.index(); });
    like.erase(std::unique(like.begin(), like.end()), like.end());
    if (like.size() == 1) return like.front();
    why = like.empty() ? "not there" : "several growers there may be meant";
    return {};
}

void add_season(table& to, const season_view& seen, grower_place person) {
    const auto made = season_of(seen, person);
    const bool any = made.claimed_of_weighed.count() > 0;
    const auto ratio = any ? quantity::nearest_double(made.share.count(), made.claimed_of_weighed.count()) : 0;
    to.add({seen.award().id, seen.award().begins, seen.award().ends, seen.season.at(person).id.text(),
            made.registrations, made.bundles, made.accepted, made.rejected, made.claimed, made.weighed,
            made.claimed_of_weighed, made.share,
            cell{any ? fmt::format("{:.2f}", ratio) : "", any ? value{ratio} : value{}}, seen.unit(), ""});
}

} // namespace

answer grower_history(const season_view& seen, const std::string& id, const std::vector<std::string>& also) {
    static_cast<void>(seen.award());
    const auto place = seen.season.find_grower(id);
    if (!place) throw input_error(none_found(kind::grower, id, find(seen.season, kind::grower, id).near));
    const auto person = seen.season.counts_as(place);
    const auto& who = seen.season.at(person);
    if (who.erased && !also.empty())
        throw input_error(fmt::format("the details of grower {} were erased on request: nobody can say who it is in "
                                      "another ledger",
                                      who.id.text()));
    answer made;
    table lines{{"award", "begins", "ends", "grower", "registrations", "bundles", "accepted", "rejected", "claimed",
                 "weighed=weighed_bundles", "claimed of these=claimed_of_weighed", "scale share=scale_share",
                 "weighed per claimed=ratio", "unit", "note"}};
    add_season(lines, seen, person);
    for (const auto& path : also) {
        const season_view other{ledger::ledger_file::open(path)};
        std::string why;
        const auto there = same_person(who, other.season, why);
        if (there) {
            add_season(lines, other, there);
            continue;
        }
        const cell none{"", value{}};
        lines.add({other.award().id, other.award().begins, other.award().ends, none, none, none, none, none, none, none,
                   none, none, none, other.unit(), why});
    }
    made.data = {{"grower", who.id.text()}, {"name", who.name}};
    made.say("{} ({})\n", who.id.text(), who.name);
    made.tell("seasons", lines);
    made.say(
        "a scale share is the bundle's part of its bale's net, shared by estimate where it was not weighed alone\n");
    return made;
}

} // namespace tarewell::desk
