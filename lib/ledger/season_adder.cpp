#include "ledger/season.hpp"

#include <algorithm>
#include <tuple>

namespace tarewell::ledger {
namespace {

std::int64_t whole_number(std::string_view text) {
    const auto value = quantity::decimal_of(text);
    return value.mantissa / static_cast<std::int64_t>(quantity::power_of_ten(value.scale));
}

std::optional<decimal> optional_decimal(std::string_view text) {
    return text.empty() ? std::nullopt : std::optional{quantity::decimal_of(text)};
}

std::optional<day> optional_day(std::string_view text) {
    return text.empty() ? std::nullopt : std::optional{quantity::day_of(text)};
}

weight_unit unit_of(std::string_view text) { return *quantity::read_weight_unit(text); }

std::optional<weight> weight_in(const row& values, std::size_t index) {
    const auto& number = values.worked_out[index];
    return number ? std::optional{weight{*number}} : std::nullopt;
}

money money_in(const row& values, std::size_t index) { return money{values.worked_out[index].value_or(0)}; }

quantity::length length_of(std::string_view feet) {
    return quantity::feet(quantity::decimal_of(feet), quantity::length_unit::ft);
}

} // namespace

estimate::cover_size size_of_cover(const row& values) {
    estimate::cover_size size;
    size.length = length_of(values[6]);
    size.width = length_of(values[7]);
    if (!values[8].empty()) size.rise = length_of(values[8]);
    size.layers = static_cast<int>(whole_number(values[9]));
    if (!values[11].empty()) size.thickness = quantity::mils{quantity::decimal_of(values[11])};
    return size;
}

/// Turns each kind's row into its record; one function a kind, columns by their place in kinds.cpp.
class season_adder {
  public:
    season_adder(season& to, const row& values, recorded by) : s_{to}, v_{values}, by_{by} {}

    void add() {
        switch (v_.which) {
        case kind::award:
            return award();
        case kind::site:
            return site();
        case kind::grower:
            return grower();
        case kind::scale:
            return scale();
        case kind::cover:
            return cover();
        case kind::bundle:
            return bundle();
        case kind::receipt:
            return receipt();
        case kind::haul:
            return haul();
        case kind::bale:
            return bale();
        case kind::reject:
            return reject();
        case kind::shipment:
            return shipment();
        case kind::ticket:
            return ticket();
        case kind::acceptance:
            return acceptance();
        case kind::budget:
            return budget();
        case kind::cost:
            return cost();
        case kind::inkind:
            return inkind();
        case kind::setting:
            return setting();
        case kind::amendment:
            return amendment();
        case kind::rebudget:
            return rebudget();
        case kind::rate:
            return rate();
        case kind::obligation:
            return obligation();
        case kind::liquidation:
            return liquidation();
        case kind::income:
            return income();
        case kind::request:
            return request();
        case kind::payment:
            return payment();
        case kind::note:
            return note();
        case kind::closing:
            return closing();
        case kind::document:
            return document();
        case kind::erasure:
            return; // the contact table shows it
        }
    }

  private:
    season& s_;
    const row& v_;
    recorded by_;

    static std::string text(std::string_view view) { return std::string{view}; }

    template <class Place> Place needed(Place place, std::string_view what) const {
        if (!place)
            throw ledger_error("entry " + std::to_string(by_.entry) + " names " + text(what) +
                               ", which nothing defines; run: tarewell ledger check");
        return place;
    }

    template <class Place, class Record, class Index>
    static Place keep(std::vector<Record>& records, Index& index, Record record) {
        const Place place{records.size()};
        index.emplace(record.id.text(), place);
        records.push_back(std::move(record));
        return place;
    }

    void award() {
        ledger::award a{by_};
        a.id = v_[0], a.agency = v_[1], a.program = v_[2], a.region = v_[3];
        a.begins = quantity::day_of(v_[4]), a.ends = quantity::day_of(v_[5]);
        a.goal_tons = quantity::decimal_of(v_[6]);
        a.quarter_starts = static_cast<int>(whole_number(v_[7]));
        a.unit = unit_of(v_[8]);
        a.match_percent = optional_decimal(v_[9]);
        if (!v_[10].empty()) a.base = v_[10] == "total" ? match_base::total : match_base::grant;
        a.indirect_percent = optional_decimal(v_[11]);
        if (v_[12] == "shipped") a.counted_when = counting::shipped;
        if (v_[12] == "accepted") a.counted_when = counting::accepted;
        s_.the_award = std::move(a);
    }

    void site() {
        keep<site_place>(s_.sites, s_.site_index_,
                         ledger::site{by_, site_id{text(v_[0])}, text(v_[1]), text(v_[2]), text(v_[3])});
    }

    void grower() {
        if (v_[0] == unknown_grower) return; // built in
        keep<grower_place>(s_.growers, s_.grower_index_,
                           ledger::grower{by_, grower_id{text(v_[0])}, text(v_[1]), text(v_[2]), text(v_[3]),
                                          text(v_[4]), v_[1].empty()});
    }

    void scale() {
        ledger::scale made{by_,
                           scale_id{text(v_[0])},
                           text(v_[1]),
                           text(v_[2]),
                           quantity::decimal_of(v_[3]),
                           quantity::decimal_of(v_[4]),
                           unit_of(v_[5]),
                           optional_day(v_[6]),
                           optional_day(v_[7])};
        keep<scale_place>(s_.scales, s_.scale_index_, std::move(made));
    }

    registration_place registration() {
        if (const auto known = s_.find_registration(v_[0])) return known;
        ledger::registration made;
        made.id = registration_id{text(v_[0])};
        made.date = quantity::day_of(v_[1]);
        made.grower = needed(s_.find_grower(v_[2]), v_[2]);
        made.site = needed(s_.find_site(v_[3]), v_[3]);
        return keep<registration_place>(s_.registrations, s_.registration_index_, std::move(made));
    }

    void cover() {
        ledger::cover made{by_};
        made.registration = registration();
        made.id = v_[4], made.structure = v_[5], made.film = v_[10];
        made.gives_thickness = !v_[11].empty();
        if (!v_[6].empty()) made.size = size_of_cover(v_);
        s_.registrations[made.registration.index()].covers.push_back(s_.covers.size());
        s_.covers.push_back(std::move(made));
    }

    void bundle() {
        ledger::bundle made{by_};
        made.id = bundle_id{text(v_[0])};
        made.registration = needed(s_.find_registration(v_[1]), v_[1]);
        made.number = whole_number(v_[2]);
        made.of = whole_number(v_[3]);
        made.own_estimate = weight_in(v_, 0);
        const auto in = made.registration;
        const auto label = season::label_key(in, made.number);
        const auto place = keep<bundle_place>(s_.bundles, s_.bundle_index_, std::move(made));
        s_.registrations[in.index()].bundles.push_back(place);
        s_.label_index_.emplace(label, place);
    }

    void receipt() {
        ledger::receipt made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]);
        made.site = needed(s_.find_site(v_[2]), v_[2]);
        made.bundle =
            !v_[3].empty()
                ? needed(s_.find_bundle(v_[3]), v_[3])
                : needed(s_.find_bundle(needed(s_.find_registration(v_[4]), v_[4]), whole_number(v_[5])), v_[4]);
        made.outcome = v_[6] == "accepted"   ? outcome::accepted
                       : v_[6] == "rejected" ? outcome::rejected
                                             : outcome::held;
        made.reason = v_[7], made.disposition = v_[8];
        s_.receipts.push_back(std::move(made));
    }

    void haul() {
        ledger::haul_row made{by_};
        made.haul = v_[0], made.driver = v_[5], made.date = quantity::day_of(v_[1]);
        made.from = needed(s_.find_site(v_[2]), v_[2]);
        made.to = needed(s_.find_site(v_[3]), v_[3]);
        made.bundle = needed(s_.find_bundle(v_[4]), v_[4]);
        s_.hauls.push_back(std::move(made));
    }

    void bale() {
        auto place = s_.find_bale(v_[0]);
        if (!place) {
            ledger::bale made;
            made.id = bale_id{text(v_[0])};
            made.date = quantity::day_of(v_[1]);
            made.site = needed(s_.find_site(v_[2]), v_[2]);
            made.first_row = by_.entry;
            place = keep<bale_place>(s_.bales, s_.bale_index_, std::move(made));
        }
        const auto bundle = needed(s_.find_bundle(v_[3]), v_[3]);
        s_.bales[place.index()].bundles.push_back(bundle);
        s_.bale_rows.push_back({by_, place, bundle});
    }

    void reject() {
        ledger::reject made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]);
        made.stage = v_[2] == "site" ? stage::site : v_[2] == "baler" ? stage::baler : stage::processor;
        if (!v_[3].empty()) made.bundle = needed(s_.find_bundle(v_[3]), v_[3]);
        if (!v_[4].empty()) made.bale = needed(s_.find_bale(v_[4]), v_[4]);
        made.rejected_weight = weight_in(v_, 0);
        made.reason = v_[7], made.disposition = v_[8];
        made.has_document = !v_[9].empty();
        s_.rejects.push_back(std::move(made));
    }

    void shipment() {
        auto place = s_.find_shipment(v_[0]);
        if (!place) {
            ledger::shipment made;
            made.id = shipment_id{text(v_[0])};
            made.date = quantity::day_of(v_[1]);
            made.processor = v_[2], made.carrier = v_[4], made.bill_of_lading = v_[5];
            place = keep<shipment_place>(s_.shipments, s_.shipment_index_, std::move(made));
        }
        const auto bale = needed(s_.find_bale(v_[3]), v_[3]);
        s_.shipments[place.index()].bales.push_back(bale);
        s_.shipment_rows.push_back({by_, place, bale});
    }

    void ticket() {
        ledger::ticket made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]);
        made.scale = needed(s_.find_scale(v_[2]), v_[2]);
        if (v_[3] == "bundle") {
            made.weighs = subject::bundle;
            made.bundle = needed(s_.find_bundle(v_[4]), v_[4]);
        } else if (v_[3] == "bale") {
            made.bale = needed(s_.find_bale(v_[4]), v_[4]);
        } else {
            made.weighs = subject::load;
            made.load = needed(s_.find_shipment(v_[4]), v_[4]);
        }
        made.gross = optional_decimal(v_[5]), made.tare = optional_decimal(v_[6]);
        made.net = quantity::decimal_of(v_[7]);
        made.unit = unit_of(v_[8]);
        made.net_weight = weight_in(v_, 0).value_or(weight{});
        made.manual = v_[10] == "manual", made.as_printed = v_[11] == "yes";
        made.has_document = !v_[12].empty();
        s_.tickets.push_back(std::move(made));
    }

    void acceptance() {
        s_.acceptances.push_back({by_, needed(s_.find_shipment(v_[0]), v_[0]), quantity::day_of(v_[1]),
                                  weight_in(v_, 0).value_or(weight{}), !v_[4].empty()});
    }

    void budget() { s_.budget.push_back({by_, text(v_[0]), money_in(v_, 0), money_in(v_, 1)}); }

    void cost() {
        ledger::cost made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]), made.category = v_[2];
        made.description = v_[3], made.amount = money_in(v_, 0);
        made.fund = v_[6] == "grant" ? fund::grant : fund::match;
        made.source = v_[7], made.subaward = v_[8], made.paid_on = optional_day(v_[9]);
        made.has_document = !v_[10].empty();
        s_.cost_index_.emplace(made.id, s_.costs.size());
        s_.costs.push_back(std::move(made));
    }

    void inkind() {
        ledger::inkind made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]), made.kind = v_[2], made.giver = v_[3];
        if (!v_[4].empty()) made.site = needed(s_.find_site(v_[4]), v_[4]);
        made.source = v_[5];
        made.quantity = quantity::decimal_of(v_[6]), made.rate = quantity::decimal_of(v_[7]);
        made.value = money_in(v_, 0);
        made.has_document = !v_[9].empty();
        s_.gifts.push_back(std::move(made));
    }

    void amendment() {
        ledger::amendment made{by_};
        made.id = v_[0], made.date = quantity::day_of(v_[1]), made.ends = optional_day(v_[2]);
        made.goal_tons = optional_decimal(v_[3]), made.match_percent = optional_decimal(v_[4]);
        if (!v_[5].empty()) made.base = v_[5] == "total" ? match_base::total : match_base::grant;
        made.indirect_percent = optional_decimal(v_[6]);
        made.why = v_[7];
        const auto after =
            std::upper_bound(s_.amendments.begin(), s_.amendments.end(), made, [](const auto& a, const auto& b) {
                return std::tie(a.date, a.order) < std::tie(b.date, b.order);
            });
        s_.amendments.insert(after, std::move(made));
    }

    void rebudget() { s_.rebudgets.push_back({by_, text(v_[0]), text(v_[1]), money_in(v_, 0), money_in(v_, 1)}); }

    void rate() {
        s_.rates.push_back({by_, text(v_[0]), text(v_[1]), text(v_[2]), text(v_[5]), quantity::day_of(v_[3]),
                            quantity::decimal_of(v_[4])});
    }

    void obligation() {
        s_.obligation_index_.emplace(text(v_[0]), s_.obligations.size());
        s_.obligations.push_back({by_, text(v_[0]), text(v_[2]), text(v_[3]), quantity::day_of(v_[1]), money_in(v_, 0),
                                  v_[6] == "grant" ? fund::grant : fund::match, !v_[7].empty()});
    }

    void liquidation() {
        s_.liquidations.push_back({by_, text(v_[0]), text(v_[4]), quantity::day_of(v_[1]),
                                   *needed(s_.find_obligation(v_[2]), v_[2]), money_in(v_, 0)});
    }

    void income() {
        s_.incomes.push_back({by_, text(v_[0]), text(v_[4]), text(v_[7]), quantity::day_of(v_[1]), v_[2] == "earned",
                              v_[3] == "deduction", money_in(v_, 0), !v_[8].empty()});
    }

    void request() {
        s_.request_index_.emplace(text(v_[0]), s_.requests.size());
        s_.requests.push_back({by_, text(v_[0]), text(v_[4]), quantity::day_of(v_[1]),
                               *needed(s_.find_cost(v_[2]), v_[2]), money_in(v_, 0)});
    }

    void payment() {
        const auto kind = v_[2] == "advance"         ? payment_kind::advance
                          : v_[2] == "reimbursement" ? payment_kind::reimbursement
                                                     : payment_kind::retainage;
        s_.payments.push_back({by_, text(v_[0]), text(v_[4]), quantity::day_of(v_[1]), kind, money_in(v_, 0),
                               money_in(v_, 1), !v_[6].empty()});
    }

    void note() { s_.notes.push_back({by_, *quantity::read_quarter(v_[0]), text(v_[1]), text(v_[2])}); }

    void closing() {
        ledger::closing made{by_};
        made.quarter = *quantity::read_quarter(v_[0]);
        made.as_of = whole_number(v_[1]);
        made.head_hash = v_[2], made.prepared_by = v_[3], made.reviewed_by = v_[4];
        made.certified_by = v_[5], made.accepted = v_[6], made.figures = v_[7];
        s_.closings.push_back(std::move(made));
    }

    void document() { s_.documents.push_back({by_, text(v_[0]), text(v_[1]), text(v_[2]), whole_number(v_[3])}); }

    void setting() { s_.settings.push_back({by_, text(v_[0]), text(v_[2]), optional_day(v_[1])}); }
};

void season::add(const row& values, entry_no entry, entry_no order) {
    season_adder{*this, values, {entry, order}}.add();
}

} // namespace tarewell::ledger
