#include "desk/next_award.hpp"

#include "ledger/database_url.hpp"
#include "ledger/load_season.hpp"
#include "ledger/sha256.hpp"
#include "ledger/whole_file.hpp"
#include "records/errors.hpp"
#include "records/settings.hpp"

#include <filesystem>
#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

struct carried {
    std::size_t sites = 0, scales = 0, growers = 0, settings = 0, maps = 0;
    std::size_t erased = 0, merged = 0;
};

intake::named_values values_of(const row& stored) {
    intake::named_values made;
    const auto columns = info(stored.which).columns;
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (!stored[i].empty()) made[std::string{columns[i].name}] = stored[i];
    return made;
}

class carrier {
  public:
    carrier(const ledger::ledger_file& from, const next_award& how, const intake::record_one& record)
        : from_{from}, head_{from.head()}, how_{how}, record_{record}, season_{ledger::load_season(from, head_.seq)} {}

    carried carry() {
        record_award();
        made_.sites = all_of(kind::site);
        made_.scales = all_of(kind::scale);
        record_settings();
        if (how_.growers) record_growers();
        if (how_.maps) record_maps();
        return made_;
    }

  private:
    void record_award() {
        intake::named_values terms;
        from_.for_each(kind::award, head_.seq, [&](const auto& stored) { terms = values_of(stored.values); });
        // What an amendment changed holds on: the terms are those of the older award's last day.
        for (const auto& amended : season_.amendments) // by their days, whatever the order of entry
            from_.with_entry(kind::amendment, amended.entry, [&](const auto& stored) {
                for (const auto& [name, text] : values_of(stored.values))
                    if (info(kind::award).find(name)) terms[name] = text;
            });
        for (const auto* needed : {"award", "begins", "ends"}) {
            const auto told = how_.terms.find(needed);
            if (told == how_.terms.end() || told->second.empty())
                throw input_error(fmt::format("the new award's {} is not told; give --{}", needed, needed));
        }
        if (how_.terms.at("award") == terms["award"])
            throw input_error(
                fmt::format("{} is the older award; give the new one's number with --award", terms["award"]));
        for (const auto& [name, text] : how_.terms)
            terms[name] = text;
        record_(kind::award, terms);
    }

    std::size_t all_of(kind which) {
        std::size_t count = 0;
        from_.for_each(which, head_.seq, [&](const auto& stored) {
            record_(which, values_of(stored.values));
            ++count;
        });
        return count;
    }

    /// Each as it stood at the end, from the new award's first day on.
    void record_settings() {
        const auto begins = how_.terms.at("begins");
        std::set<std::string> set;
        for (const auto& each : season_.settings)
            set.insert(each.name);
        for (const auto& name : set) {
            const auto value = season_.setting_on(name, season_.the_award->ends);
            const auto* known = find_setting(name);
            if (value.empty() || (known != nullptr && value == known->default_value)) continue;
            record_(kind::setting, {{"setting", name}, {"from", begins}, {"value", value}});
            ++made_.settings;
        }
    }

    void record_growers() {
        from_.for_each(kind::grower, head_.seq, [&](const auto& stored) {
            const auto place = season_.find_grower(stored.values["grower"]);
            if (is_erased(stored.values)) {
                ++made_.erased;
            } else if (season_.counts_as(place) != place) {
                ++made_.merged;
            } else {
                record_(kind::grower, values_of(stored.values));
                ++made_.growers;
            }
        });
    }

    void record_maps() {
        std::set<std::string> maps;
        from_.for_each(kind::map_rule, head_.seq, [&](const auto& stored) {
            record_(kind::map_rule, values_of(stored.values));
            maps.emplace(stored.values["map"]);
        });
        made_.maps = maps.size();
    }

    const ledger::ledger_file& from_;
    const ledger::journal_head head_;
    const next_award& how_;
    const intake::record_one& record_;
    season season_;
    carried made_;
};

/// "from kestrel.tarewell, award KB-26-014, as of entry 1915 of 2026-10-01, fingerprint ab12..."
std::string origin_of(const ledger::ledger_file& from) {
    const auto head = from.head();
    const auto season = ledger::load_season(from, head.seq);
    if (!season.the_award) throw input_error(from.path() + " has no award; make the new ledger without --from");
    return fmt::format("from {}, award {}, as of entry {} of {}, fingerprint {}", ledger::short_name_of(from.path()),
                       season.the_award->id, head.seq, head.at.substr(0, 10), ledger::hex(head.hash));
}

answer told_of(const next_award& how, const carried& made, const std::string& origin) {
    answer told;
    told.data = {{"file", how.file},
                 {"origin", origin},
                 {"sites", made.sites},
                 {"scales", made.scales},
                 {"growers", made.growers},
                 {"settings", made.settings},
                 {"maps", made.maps},
                 {"left_out_erased", made.erased},
                 {"left_out_merged", made.merged}};
    told.say("made a ledger: {}, award {}, {} to {}\n{}\n", how.file, how.terms.at("award"), how.terms.at("begins"),
             how.terms.at("ends"), origin);
    told.say("with {}, {}, {}, {}, {}\n", counted(made.sites, "site", "sites"), counted(made.scales, "scale", "scales"),
             counted(made.growers, "grower", "growers"), counted(made.settings, "setting", "settings"),
             counted(made.maps, "map", "maps"));
    if (made.erased > 0)
        told.say("left out: {} whose details were erased on request\n", counted(made.erased, "grower", "growers"));
    if (made.merged > 0)
        told.say("left out: {} that counted as another, which is there\n", counted(made.merged, "id", "ids"));
    told.say("look at its terms: tarewell list award; budget, rates and scales' certificates are to be told anew\n");
    return told;
}

} // namespace

answer begin_next_award(const next_award& how, const ledger::surroundings& around) {
    const auto from = ledger::ledger_file::open(how.from);
    const auto origin = origin_of(from);
    if (ledger::is_in_database(how.file))
        throw input_error(
            fmt::format("the next award's ledger is made as a file first and carried over then: tarewell new "
                        "FILE --from ..., tarewell ledger move FILE {}",
                        how.file));
    if (std::filesystem::exists(how.file))
        throw input_error(fmt::format("{} is there already; nothing was changed. Name another file", how.file));
    ledger::whole_file place{how.file};
    carried made;
    {
        auto file = ledger::ledger_file::create(place.partial());
        intake::record_all(
            file, "new",
            [&](const intake::record_one& record) {
                made = carrier{from, how, record}.carry();
            },
            around, {}, origin);
    }
    place.put_in_place();
    return told_of(how, made, origin);
}

} // namespace tarewell::desk
