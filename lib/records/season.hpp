#pragma once
#include "records/acceptance.hpp"
#include "records/amendment.hpp"
#include "records/award.hpp"
#include "records/bale.hpp"
#include "records/budget.hpp"
#include "records/bundle.hpp"
#include "records/closing.hpp"
#include "records/confirmation.hpp"
#include "records/cost.hpp"
#include "records/cover.hpp"
#include "records/document.hpp"
#include "records/erasure.hpp"
#include "records/grower.hpp"
#include "records/haul.hpp"
#include "records/income.hpp"
#include "records/inkind.hpp"
#include "records/liquidation.hpp"
#include "records/map_rule.hpp"
#include "records/merge.hpp"
#include "records/note.hpp"
#include "records/obligation.hpp"
#include "records/payment.hpp"
#include "records/rate.hpp"
#include "records/rebudget.hpp"
#include "records/receipt.hpp"
#include "records/reject.hpp"
#include "records/request.hpp"
#include "records/scale.hpp"
#include "records/setting.hpp"
#include "records/shipment.hpp"
#include "records/site.hpp"
#include "records/ticket.hpp"

#include <memory>

namespace tarewell::records {

/// Everything in force at one sequence, by kind, ids resolved to places; or the neighbourhood of one record. The grower
/// `unknown` is always there, at place 0.
struct season {
    season();

    std::optional<award> the_award;
    std::vector<site> sites;
    std::vector<grower> growers;
    std::vector<scale> scales;
    std::vector<cover> covers;
    std::vector<registration> registrations;
    std::vector<bundle> bundles;
    std::vector<receipt> receipts;
    std::vector<haul_row> hauls;
    std::vector<bale_row> bale_rows;
    std::vector<bale> bales;
    std::vector<reject> rejects;
    std::vector<shipment_row> shipment_rows;
    std::vector<shipment> shipments;
    std::vector<ticket> tickets;
    std::vector<acceptance> acceptances;
    std::vector<budget_line> budget;
    std::vector<cost> costs;
    std::vector<inkind> gifts;
    std::vector<setting> settings;
    std::vector<amendment> amendments; ///< by date, then order of entry
    std::vector<rebudget> rebudgets;
    std::vector<rate> rates;
    std::vector<obligation> obligations;
    std::vector<liquidation> liquidations;
    std::vector<income> incomes;
    std::vector<request_row> requests;
    std::vector<payment> payments;
    std::vector<note> notes;
    std::vector<confirmation> confirmations;
    std::vector<map_rule> map_rules;
    std::vector<merge> merges;
    std::vector<closing> closings;
    std::vector<document> documents;
    /// The days (UTC) on which entries were made: those from `first` on, until the next.
    struct entered {
        entry_no first = 0;
        day on;
    };
    std::vector<entered> days_of_entry;

    /// Entries from this one on were made on this day; told in order of entry.
    void learn_day(entry_no first, day on);
    /// The day on which an entry was made; none where it isn't known.
    [[nodiscard]] std::optional<day> entered_on(entry_no entry) const;
    /// The award's terms in force on a day: as awarded, with the amendments dated by then.
    [[nodiscard]] award terms_on(day on) const;
    /// The budget in force on a day.
    [[nodiscard]] std::vector<budget_line> budget_on(day on) const;
    /// The grower as whom one counts: itself, or whom it was merged into.
    [[nodiscard]] grower_place counts_as(grower_place grower) const;
    /// The closing of a quarter, a year or the whole award, or null.
    [[nodiscard]] const closing* closing_of(const quantity::period& period) const;
    /// A period's days. The whole award's are those to its end as last amended, from its first day or that of the first
    /// dated row where one is dated before: what is to date at the award's end is in it.
    [[nodiscard]] quantity::span_of_days days_of(const quantity::period& period) const;
    /// The first and the last day that a row of weight or money is dated on; none where there is no row.
    [[nodiscard]] std::optional<quantity::span_of_days> days_of_rows() const;
    /// The text of a setting in force on a day, or its default (see settings.hpp).
    [[nodiscard]] std::string setting_on(std::string_view name, std::optional<day> on) const;
    /// The same of a setting that is a number.
    [[nodiscard]] quantity::decimal number_on(std::string_view name, std::optional<day> on) const {
        return quantity::decimal_of(setting_on(name, on));
    }
    [[nodiscard]] estimate::constants constants_on(std::optional<day> on) const;

    /// Adds one checked record. Throws ledger_error when it names an id that nothing defines.
    void add(const row& values, entry_no entry, entry_no order);

    static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
    /// Where the record of an id stands in its kind's vector (for covers: registrations; for shared records whose rows
    /// stand one by one: the first row).
    [[nodiscard]] std::size_t place_of(kind which, std::string_view id) const;
    [[nodiscard]] bool defines(kind which, std::string_view id) const { return place_of(which, id) != nowhere; }

    [[nodiscard]] site_place find_site(std::string_view id) const { return find<site_place>(kind::site, id); }
    [[nodiscard]] grower_place find_grower(std::string_view id) const { return find<grower_place>(kind::grower, id); }
    [[nodiscard]] scale_place find_scale(std::string_view id) const { return find<scale_place>(kind::scale, id); }
    [[nodiscard]] registration_place find_registration(std::string_view id) const {
        return find<registration_place>(kind::cover, id);
    }
    [[nodiscard]] bundle_place find_bundle(std::string_view id) const { return find<bundle_place>(kind::bundle, id); }
    /// By what the label says; a default place when there is no such bundle.
    [[nodiscard]] bundle_place find_bundle(registration_place registration, std::int64_t number) const;
    [[nodiscard]] bale_place find_bale(std::string_view id) const { return find<bale_place>(kind::bale, id); }
    [[nodiscard]] shipment_place find_shipment(std::string_view id) const {
        return find<shipment_place>(kind::shipment, id);
    }
    [[nodiscard]] const amendment* find_amendment(std::string_view id) const;
    /// By the order of entry in `costs` and `obligations`; none when there is no such id.
    [[nodiscard]] std::optional<std::size_t> find_cost(std::string_view id) const;
    [[nodiscard]] std::optional<std::size_t> find_obligation(std::string_view id) const;
    /// The first row of a reimbursement request, or null.
    [[nodiscard]] const request_row* find_request(std::string_view id) const;

    [[nodiscard]] const site& at(site_place p) const { return sites[p.index()]; }
    [[nodiscard]] const grower& at(grower_place p) const { return growers[p.index()]; }
    [[nodiscard]] const scale& at(scale_place p) const { return scales[p.index()]; }
    [[nodiscard]] const registration& at(registration_place p) const { return registrations[p.index()]; }
    [[nodiscard]] const bundle& at(bundle_place p) const { return bundles[p.index()]; }
    [[nodiscard]] const bale& at(bale_place p) const { return bales[p.index()]; }
    [[nodiscard]] const shipment& at(shipment_place p) const { return shipments[p.index()]; }

    // For the records themselves, as they are added.
    /// The place of an id; the first one stays.
    void learn(kind which, std::string_view id, std::size_t place);
    void learn_label(registration_place registration, std::int64_t number, bundle_place place);
    template <class Record> void keep(kind which, std::vector<Record>& records, Record made) {
        learn(which, made.id.text(), records.size());
        records.push_back(std::move(made));
    }

  private:
    template <class Place> [[nodiscard]] Place find(kind which, std::string_view id) const {
        return Place{place_of(which, id)};
    }
    /// Which place each id has; copied with the season.
    class index {
      public:
        index();
        ~index();
        index(const index& other);
        index(index&&) noexcept;
        index& operator=(index other) noexcept;
        struct maps;
        std::unique_ptr<maps> of;
    };
    index index_;
};

} // namespace tarewell::records
