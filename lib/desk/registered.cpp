#include "desk/registered.hpp"

#include "desk/echo.hpp"
#include "estimate/plan.hpp"
#include "ledger/load_season.hpp"
#include "records/claims.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

struct opening {
    std::string opens, closes;
};

opening hours_of(const ledger::ledger_file& file, const std::string& site) {
    opening hours;
    file.for_each_with(kind::site, "site", site, file.head().seq, [&](const ledger::stored_row& stored) {
        hours = {std::string{stored.values["opens"]}, std::string{stored.values["closes"]}};
    });
    return hours;
}

class teller {
  public:
    teller(const ledger::ledger_file& file, const registered_call& of)
        : file_{file}, of_{of}, s_{ledger::load_season(file, file.head().seq)}, claims_{claims_of(s_)},
          place_{s_.find_registration(of.registration)} {}

    answer told() {
        say_who_and_where();
        say_labels();
        say_what_to_tell();
        say_doubts();
        return std::move(made_);
    }

  private:
    [[nodiscard]] std::string shown(quantity::weight value) const {
        return fmt::format("{} {}", quantity::text_of(value), quantity::name_of(s_.the_award->unit));
    }

    void say_who_and_where() {
        const auto& who = s_.at(s_.at(place_).grower);
        const auto& where = s_.at(s_.at(place_).site);
        quantity::weight claimed;
        for (const auto each : s_.at(place_).bundles)
            claimed += claims_[each.index()].estimate;
        const auto& bundles = s_.at(place_).bundles;
        const auto basis = claims_[bundles.front().index()].basis;
        made_.data = {{"registration", of_.registration},
                      {"date", of_.date},
                      {"grower", of_.grower},
                      {"name", who.name},
                      {"new_grower", of_.new_grower},
                      {"site", of_.site},
                      {"claim", claimed},
                      {"unit", quantity::name_of(s_.the_award->unit)},
                      {"basis", name_of(basis)},
                      {"by_count", of_.by_count}};
        auto& entries = made_.data["entries"] = value::array();
        for (const auto entry : of_.entries)
            entries.push_back(entry);
        made_.say("registered by {} {}{}\n", of_.entries.size() == 1 ? "entry" : "entries", of_.entries.front(),
                  of_.entries.size() == 1 ? "" : fmt::format(" to {}", of_.entries.back()));
        made_.say("{}grower {} ({}), site {} ({})\n", of_.new_grower ? "new " : "", who.id.text(), who.name,
                  where.id.text(), where.name);
        const auto covers = s_.at(place_).covers.size();
        made_.say("{}: {}{}, claims {} ({})\n", of_.registration,
                  of_.by_count ? "" : counted(covers, "cover", "covers") + ", ",
                  counted(bundles.size(), "bundle", "bundles"), shown(claimed),
                  of_.by_count ? "by the usual weight of a bundle" : std::string{name_of(basis)});
    }

    void say_labels() {
        const auto& name = s_.at(s_.at(place_).grower).name;
        const auto& bundles = s_.at(place_).bundles;
        auto& told = made_.data["bundles"] = value::array();
        made_.say("labels:\n");
        for (const auto each : bundles) {
            const auto& bundle = s_.at(each);
            const auto label = estimate::label_text(name, static_cast<std::size_t>(bundle.number), bundles.size());
            made_.say("  {}  {:>10} {}  {}\n", bundle.id.text(), quantity::text_of(claims_[each.index()].estimate),
                      quantity::name_of(s_.the_award->unit), label);
            told.push_back({{"bundle", bundle.id.text()},
                            {"number", bundle.number},
                            {"of", bundle.of},
                            {"claim", claims_[each.index()].estimate},
                            {"label", label}});
        }
    }

    void say_what_to_tell() {
        const auto& where = s_.at(s_.at(place_).site);
        const auto [opens, closes] = hours_of(file_, of_.site);
        const auto hours = opens.empty()    ? std::string{}
                           : closes.empty() ? fmt::format(", from {}", opens)
                                            : fmt::format(", {} to {}", opens, closes);
        made_.data["tell"] = {
            {"site", where.name}, {"town", where.town}, {"host", where.host}, {"opens", opens}, {"closes", closes}};
        made_.say("tell the grower: {}{}{}{}; write the label on each bundle\n", where.name,
                  where.town.empty() ? "" : ", " + where.town, hours,
                  where.host.empty() ? "" : "; host: " + where.host);
        made_.say("Lift bundles with help; cut off and leave out soiled edges, staples, twine and lath.\n");
    }

    void say_doubts() {
        auto& told = made_.data["doubts"] = value::array();
        std::vector<std::string> said;
        const auto say = [&](kind which, const std::vector<entry_no>& entries) {
            const auto echo = echo_of(file_, which, entries);
            for (const auto& each : echo.doubts)
                if (std::find(said.begin(), said.end(), each.sentence) == said.end()) {
                    said.push_back(each.sentence);
                    told.push_back({{"level", reconcile::name_of(each.level)}, {"sentence", each.sentence}});
                    made_.say("{}: {}\n", reconcile::name_of(each.level), each.sentence);
                }
            for (const auto& line : echo.filed)
                if (std::find(said.begin(), said.end(), line) == said.end()) {
                    said.push_back(line);
                    made_.say("{}\n", line);
                }
        };
        if (!of_.not_counted.empty()) {
            const auto asked = fmt::format(
                "'{}' is no number of bundles: {} planned by the covers' sizes; ask how many "
                "there are.",
                of_.not_counted,
                s_.at(place_).bundles.size() == 1 ? "1 is" : fmt::format("{} are", s_.at(place_).bundles.size()));
            told.push_back({{"level", reconcile::name_of(reconcile::flag_level::question)}, {"sentence", asked}});
            made_.say("{}: {}\n", reconcile::name_of(reconcile::flag_level::question), asked);
        }
        say(kind::bundle, of_.entries); // a flag names its rows by entry, whatever their kind
    }

    const ledger::ledger_file& file_;
    const registered_call& of_;
    season s_;
    std::vector<claim> claims_;
    registration_place place_;
    answer made_;
};

} // namespace

answer told_of(const ledger::ledger_file& file, const registered_call& of) { return teller{file, of}.told(); }

} // namespace tarewell::desk
