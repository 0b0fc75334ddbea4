#include "desk/registering.hpp"

#include "desk/look_up.hpp"
#include "desk/next_id.hpp"
#include "desk/registered.hpp"
#include "estimate/plan.hpp"
#include "ledger/load_season.hpp"
#include "records/claims.hpp"
#include "records/letters.hpp"
#include "records/nearest_name.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using quantity::weight;

std::string dashes_left_out(std::string text) {
    text.erase(std::remove_if(text.begin(), text.end(), [](char c) { return c == ' ' || c == '\''; }), text.end());
    if (text.ends_with("ft")) text.resize(text.size() - 2);
    return text;
}

bool has_letters(const std::string& text) {
    return std::any_of(text.begin(), text.end(),
                       [](unsigned char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0x80; });
}

/// Growers that a new one may be: of the same e-mail address or telephone number, or of a name that differs by a slip.
std::vector<found_thing> growers_like(const season& of, const std::string& name, const call& said) {
    std::vector<found_thing> like;
    const auto letters = letters_of(folded(name));
    const std::size_t slip = letters.size() < 6 ? 1 : 2;
    const auto things = things_of(of, kind::grower); // in the growers' order, without `unknown`
    for (std::size_t i = 1; i < of.growers.size(); ++i) {
        const auto& each = of.growers[i];
        if (each.erased) continue;
        const auto theirs = letters_of(folded(each.name));
        const auto phone = digits_of(each.phone);
        if ((!said.email.empty() && letters_of(said.email) == letters_of(each.email)) ||
            (!phone.empty() && phone == digits_of(said.phone)) || (letters.size() > 2 && theirs.find(letters) == 0) ||
            letters_changed(letters, theirs, slip) <= slip)
            like.push_back(things[i - 1]);
    }
    return like;
}

/// The same name but another address and number: another person, or one whose details are old.
bool contradicts(const grower& known, const call& said) {
    const bool phone = !said.phone.empty() && !known.phone.empty();
    const bool email = !said.email.empty() && !known.email.empty();
    const bool same = (phone && digits_of(said.phone) == digits_of(known.phone)) ||
                      (email && letters_of(said.email) == letters_of(known.email));
    return (phone || email) && !same;
}

std::string may_be_text(const std::string& who, const std::vector<found_thing>& may_be) {
    return several_found(kind::grower, who, may_be) + "\nname the grower with --grower ID, or say --new-grower";
}

class registrar {
  public:
    registrar(const ledger::ledger_file& file, const call& of, const ledger::surroundings& around,
              const intake::record_one& record)
        : file_{file}, call_{of}, record_{record}, season_{ledger::load_season(file, file.head().seq)} {
        if (!season_.the_award) throw input_error("the ledger has no award yet; record it or take in award.csv first");
        made_.date = of.date.empty() ? around.now().substr(0, 10) : of.date;
    }

    registered_call record() {
        if (call_.covers.empty() && call_.bundles.empty())
            throw input_error("what the grower brings is not told; give the covers' sizes (--cover 96x30), or how many "
                              "bundles (--bundles 5)");
        made_.site = site_id();
        decide_grower();
        if (!made_.new_grower)
            made_.grower = season_.at(season_.counts_as(season_.find_grower(made_.grower))).id.text();
        refuse_twice();
        if (made_.new_grower) record_grower();
        made_.registration = next_id(file_, kind::cover, "R001");
        record_covers();
        record_bundles();
        return made_;
    }

  private:
    std::string site_id() {
        if (call_.site.empty()) throw input_error("the site is not told; name it with --site, by its id or name");
        look_up names{file_};
        const auto id = names.id_of(kind::site, call_.site);
        return id;
    }

    void decide_grower() {
        if (!call_.grower.empty()) {
            look_up names{file_};
            made_.grower = names.id_of(kind::grower, call_.grower);
            return;
        }
        if (call_.who.empty()) throw input_error("the grower is not told; give the name, or --grower with the id");
        if (!call_.new_grower) {
            const auto known = find(season_, kind::grower, call_.who);
            if (known.by_id || (known.in_full && known.matches.size() == 1 &&
                                !contradicts(season_.at(season_.find_grower(known.matches.front().id)), call_))) {
                made_.grower = known.matches.front().id;
                return;
            }
            auto may_be = known.matches;
            if (may_be.empty()) may_be = growers_like(season_, call_.who, call_);
            if (!may_be.empty())
                throw call_in_doubt{call_in_doubt::about::grower, may_be, may_be_text(call_.who, may_be)};
        }
        if (!has_letters(call_.who) || call_.who.find('@') != std::string::npos ||
            (call_.who.find(' ') == std::string::npos && !digits_of(call_.who).empty()))
            throw input_error(none_found(kind::grower, call_.who, find(season_, kind::grower, call_.who).near) +
                              "; a new grower is registered by name");
        made_.new_grower = true;
        made_.grower = next_id(file_, kind::grower, "G001");
    }

    /// A call that was typed before, by the day, the grower, the site and the covers.
    void refuse_twice() {
        if (call_.again || made_.new_grower) return;
        for (const auto& each : season_.registrations) {
            if (season_.at(each.grower).id.text() != made_.grower || season_.at(each.site).id.text() != made_.site ||
                quantity::text_of(each.date) != made_.date)
                continue;
            throw call_in_doubt{
                call_in_doubt::about::registration,
                {{each.id.text(), counted(each.bundles.size(), "bundle", "bundles"), {}}},
                fmt::format("{} of {} is a registration of grower {} for site {} already; say --again where this is "
                            "another one",
                            each.id.text(), made_.date, made_.grower, made_.site)};
        }
    }

    void record_grower() {
        record_(kind::grower, {{"grower", made_.grower},
                               {"name", call_.who},
                               {"farm", call_.farm},
                               {"town", call_.town},
                               {"region", call_.region.empty() ? season_.the_award->region : call_.region},
                               {"email", call_.email},
                               {"phone", call_.phone}});
    }

    void record_covers() {
        const auto covers = call_.covers.empty() ? std::vector<cover_told>(1) : call_.covers;
        for (std::size_t i = 0; i < covers.size(); ++i) {
            const auto& each = covers[i];
            const bool sized = !each.length.empty() || !each.width.empty();
            record_(kind::cover, {{"registration", made_.registration},
                                  {"date", made_.date},
                                  {"grower", made_.grower},
                                  {"site", made_.site},
                                  {"cover", std::to_string(i + 1)},
                                  {"structure", each.structure},
                                  {"length_ft", each.length},
                                  {"width_ft", each.width},
                                  {"rise_ft", each.rise},
                                  {"layers", sized && each.layers.empty() ? "1" : each.layers},
                                  {"film", each.film},
                                  {"mil", each.mil}});
            sized_ = sized_ || sized;
        }
    }

    [[nodiscard]] weight of_setting(const char* setting) const {
        const auto on = quantity::read_day(made_.date);
        return quantity::weight_from(season_.number_on(setting, on), quantity::weight_unit::lb,
                                     season_.the_award->unit);
    }

    /// As many bundles as were told, or as `estimate` plans.
    [[nodiscard]] std::size_t count_of_bundles() {
        const bool unknown = call_.bundles.find_first_of("0123456789") == std::string::npos; // "don't know", too
        made_.not_counted = unknown ? call_.bundles : std::string{};
        if (call_.bundles.empty() || (unknown && sized_)) {
            if (!sized_)
                throw input_error("the covers have no sizes; give their lengths and widths, or how many bundles");
            const auto with_covers = ledger::load_season(file_, file_.head().seq);
            const auto claimed = worked_out_estimate(with_covers, with_covers.find_registration(made_.registration));
            return estimate::bundle_plan(claimed, {of_setting("bundle_aim_lb"), of_setting("bundle_maximum_lb")})
                .size();
        }
        constexpr std::size_t most_digits = 4;
        const bool whole =
            call_.bundles.find_first_not_of("0123456789") == std::string::npos && call_.bundles.size() <= most_digits;
        const auto count = whole ? std::stoul(call_.bundles) : 0;
        if (count == 0)
            throw input_error(fmt::format(
                "'{}' is no number of bundles; write it as 5, or give the covers' sizes, by which they are planned",
                call_.bundles));
        return count;
    }

    void record_bundles() {
        const auto count = count_of_bundles();
        const auto ids = next_bundle_ids(file_, made_.registration, count);
        made_.by_count = !sized_;
        for (std::size_t i = 0; i < count; ++i)
            record_(kind::bundle,
                    {{"bundle", ids[i]},
                     {"registration", made_.registration},
                     {"number", std::to_string(i + 1)},
                     {"of", std::to_string(count)},
                     {"estimate", sized_ ? "" : season_.setting_on("bundle_aim_lb", quantity::read_day(made_.date))},
                     {"unit", sized_ ? "" : "lb"}});
    }

    const ledger::ledger_file& file_;
    const call& call_;
    const intake::record_one& record_;
    season season_;
    registered_call made_;
    bool sized_ = false;
};

} // namespace

cover_told cover_of_size(const std::string& size) {
    std::vector<std::string> parts;
    std::string small = small_letters(size);
    if (const auto by = small.find("by"); by != std::string::npos) small.replace(by, 2, "x");
    for (std::size_t begin = 0; begin <= small.size();) {
        const auto end = std::min(small.find('x', begin), small.size());
        parts.push_back(dashes_left_out(small.substr(begin, end - begin)));
        begin = end + 1;
    }
    const auto is_number = [](const std::string& part) {
        return quantity::read_decimal(part).fault == quantity::decimal_fault::none;
    };
    if (parts.size() < 2 || parts.size() > 3 || !std::all_of(parts.begin(), parts.end(), is_number))
        throw input_error(
            fmt::format("'{}' is no size of a cover; write length and floor width in feet as 96x30, with the "
                        "height of the ridge as 96x30x12",
                        size));
    return {parts[0], parts[1], parts.size() == 3 ? parts[2] : "", "1", {}, {}, {}};
}

answer register_call(ledger::ledger_file& to, const call& of, const ledger::surroundings& around) {
    registered_call made;
    const auto change = intake::record_all(
        to, "register",
        [&](const intake::record_one& record) {
            made = registrar{to, of, around, record}.record();
        },
        around, of.once);
    if (change.entries.empty()) {
        answer nothing;
        nothing.data = {{"note", change.note}};
        nothing.say("{}\n", change.note);
        return nothing;
    }
    made.entries = change.entries;
    return told_of(to, made);
}

} // namespace tarewell::desk
