#include "desk/listing.hpp"

#include "desk/find.hpp"
#include "intake/csv.hpp"
#include "ledger/load_season.hpp"
#include "records/claims.hpp"
#include "records/letters.hpp"

#include <algorithm>
#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using ledger::stored_row;
using quantity::day;
using quantity::weight;

/// Whose and where a record is, and on which day.
struct standing_of {
    std::set<std::size_t> sites, growers;
    std::optional<day> on;
};

class relations {
  public:
    explicit relations(const season& of) : s_{of} {}

    /// A site that the record names itself goes before those of what it names.
    [[nodiscard]] standing_of of(const row& values) const {
        const auto& kind = info(values.which);
        standing_of direct, further;
        if (kind.date_column) direct.on = quantity::read_day(values[*kind.date_column]);
        for (const auto& column : kind.columns) {
            const auto named = kind_named(column, values);
            if (!named) continue;
            const auto place = s_.place_of(*named, values[column.name]);
            if (place == season::nowhere) continue;
            if (*named == kind::site) direct.sites.insert(place);
            follow(*named, place, further);
        }
        if (kind.which == kind::site || kind.which == kind::grower)
            if (const auto place = s_.place_of(kind.which, values[kind.key[0]]); place != season::nowhere)
                (kind.which == kind::site ? direct.sites : direct.growers)
                    .insert(kind.which == kind::site ? place : s_.counts_as(grower_place{place}).index());
        if (direct.sites.empty()) direct.sites = std::move(further.sites);
        direct.growers.insert(further.growers.begin(), further.growers.end());
        if (!direct.on) direct.on = further.on;
        return direct;
    }

  private:
    void follow(kind which, std::size_t place, standing_of& to) const {
        if (which == kind::grower) to.growers.insert(s_.counts_as(grower_place{place}).index());
        if (which == kind::cover) add(registration_place{place}, to);
        if (which == kind::bundle) add(s_.bundles[place].registration, to);
        if (which == kind::bale) add(s_.bales[place], to);
        if (which == kind::shipment)
            for (const auto bale : s_.shipments[place].bales)
                add(s_.at(bale), to);
    }
    void add(registration_place place, standing_of& to) const {
        const auto& from = s_.at(place);
        to.sites.insert(from.site.index());
        to.growers.insert(from.grower.index());
        to.on = from.date;
    }
    void add(const bale& of, standing_of& to) const {
        to.sites.insert(of.site.index());
        for (const auto each : of.bundles)
            to.growers.insert(s_.at(s_.at(each).registration).grower.index());
    }

    const season& s_;
};

std::optional<day> day_asked(const char* option, const std::string& text) {
    if (text.empty()) return {};
    const auto on = quantity::read_day(text);
    if (!on)
        throw input_error(fmt::format("{}: '{}' is not written as a date; write a date as 2026-05-14", option, text));
    return on;
}

class lister {
  public:
    lister(const looked_at& at, const kind_info& kind, const list_request& which)
        : at_{at}, kind_{kind}, upto_{at.upto(which.as_of)}, asked_{which}, from_{day_asked("--from", which.from)},
          to_{day_asked("--to", which.to)} {
        if ((from_ || to_) && !kind.date_column && kind.which != kind::bundle)
            throw input_error(fmt::format("{} have no date; leave --from and --to out", kind.file));
        for (std::size_t begin = 0; begin < which.words.size();) {
            const auto end = std::min(which.words.find(' ', begin), which.words.size());
            if (end > begin) words_.push_back(folded(which.words.substr(begin, end - begin)));
            begin = end + 1;
        }
        if (which.filters() || shows_claims()) season_ = ledger::load_season(at.file, upto_);
    }

    [[nodiscard]] bool shows_claims() const { return kind_.which == kind::bundle || kind_.which == kind::cover; }
    [[nodiscard]] const season& of() const { return *season_; }
    [[nodiscard]] std::size_t looked_through() const { return looked_through_; }

    void for_each(const std::function<void(const stored_row&)>& each) {
        at_.file.for_each(kind_.which, upto_, [&](const stored_row& stored) {
            ++looked_through_;
            if (!asked_.filters() || is_asked(stored.values)) each(stored);
        });
    }

  private:
    [[nodiscard]] bool is_asked(const row& values) const {
        const auto stands = relations{*season_}.of(values);
        const auto among = [](const std::set<std::size_t>& places, std::size_t place) {
            return places.contains(place);
        };
        if (!asked_.site.empty() && !among(stands.sites, season_->place_of(kind::site, asked_.site))) return false;
        if (!asked_.grower.empty() &&
            !among(stands.growers, season_->counts_as(season_->find_grower(asked_.grower)).index()))
            return false;
        if (from_ && (!stands.on || *stands.on < *from_)) return false;
        if (to_ && (!stands.on || *stands.on > *to_)) return false;
        return words_.empty() || has_words(values, stands);
    }
    [[nodiscard]] bool has_words(const row& values, const standing_of& stands) const {
        std::string text;
        for (std::size_t i = 0; i < kind_.columns.size(); ++i)
            text.append(values[i]).append("\n");
        for (const auto place : stands.growers)
            text += season_->growers[place].name + "\n" + season_->growers[place].farm + "\n";
        for (const auto place : stands.sites)
            text += season_->sites[place].name + "\n";
        text = folded(text);
        return std::all_of(words_.begin(), words_.end(),
                           [&](const auto& word) { return text.find(word) != std::string::npos; });
    }

    const looked_at& at_;
    const kind_info& kind_;
    entry_no upto_;
    const list_request& asked_;
    std::optional<day> from_, to_;
    std::vector<std::string> words_;
    std::optional<season> season_;
    std::size_t looked_through_ = 0;
};

/// What registrations and bundles claim, and what the listed ones claim together.
class claims_shown {
  public:
    explicit claims_shown(const season& of) : s_{of}, claims_{claims_of(of)} {}

    /// A bundle's claim.
    cell of_bundle(std::string_view id) {
        const auto claim = claims_[s_.find_bundle(id).index()].estimate;
        sum_ += claim;
        return claim;
    }
    /// A registration's, told to people in its first row alone.
    cell of_registration(std::string_view id) {
        const auto place = s_.find_registration(id);
        weight claim;
        for (const auto each : s_.at(place).bundles)
            claim += claims_[each.index()].estimate;
        if (s_.at(place).bundles.empty()) claim = worked_out_estimate(s_, place);
        if (!told_.insert(place.index()).second) return cell{std::string{}, claim};
        sum_ += claim;
        return claim;
    }
    [[nodiscard]] std::string in_words() const {
        const auto unit = s_.the_award ? quantity::name_of(s_.the_award->unit) : "lb";
        const auto of = told_.empty() ? "" : " of " + counted(told_.size(), "registration", "registrations");
        return fmt::format("{}, claimed weight {} {}", of, quantity::shortest_text({sum_.count(), 3}), unit);
    }

  private:
    const season& s_;
    std::vector<claim> claims_;
    std::set<std::size_t> told_;
    weight sum_;
};

std::string count_line(const kind_info& kind, std::size_t shown, const lister& through, const list_request& which) {
    const auto all = through.looked_through();
    const auto of_all = which.filters() && shown != all ? fmt::format(" of {}", all) : std::string{};
    const bool one = shown == 1 && of_all.empty();
    return fmt::format("{}{} {}", shown, of_all, one ? kind.name : kind.file);
}

value or_null(std::string_view text) { return text.empty() ? value{} : value{text}; }

} // namespace

answer records_of(const looked_at& at, const kind_info& kind, const list_request& which) {
    lister through{at, kind, which};
    const bool claims = through.shows_claims();
    std::optional<claims_shown> claimed;
    if (claims) claimed.emplace(through.of());
    std::vector<std::string> columns{"seq"};
    for (const auto& each : kind.columns)
        columns.emplace_back(each.name);
    if (claims) columns.emplace_back(kind.which == kind::bundle ? "claims=claim" : "claims=registration_claim");
    table records{std::move(columns)};
    std::size_t shown = 0;
    through.for_each([&](const stored_row& stored) {
        std::vector<cell> cells{stored.entry};
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            cells.emplace_back(std::string{stored.values[i]}, or_null(stored.values[i]));
        if (claims)
            cells.push_back(kind.which == kind::bundle ? claimed->of_bundle(stored.values["bundle"])
                                                       : claimed->of_registration(stored.values["registration"]));
        records.add(std::move(cells));
        ++shown;
    });
    answer made;
    made.tell(records);
    made.say("\n{}{}\n", count_line(kind, shown, through, which), claims ? claimed->in_words() : "");
    return made;
}

std::size_t csv_of_records(const looked_at& at, const kind_info& kind, const list_request& which,
                           const std::function<void(const std::string&)>& line) {
    std::string text;
    for (const auto& column : kind.columns)
        text += (text.empty() ? "" : ",") + std::string{column.name};
    line(text + '\n');
    std::size_t count = 0;
    lister{at, kind, which}.for_each([&](const stored_row& stored) {
        text.clear();
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const auto type = kind.columns[i].type;
            const bool words = type == column_type::text || type == column_type::id;
            if (i > 0) text += ',';
            text += words ? intake::csv_field(stored.values[i]) : intake::csv_number(stored.values[i]);
        }
        line(text + '\n');
        ++count;
    });
    return count;
}

} // namespace tarewell::desk
