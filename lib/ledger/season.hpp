#pragma once
#include "estimate/cover.hpp"
#include "ledger/ledger.hpp"
#include "quantity/money.hpp"
#include "quantity/quarter.hpp"

#include <string>
#include <tsl/robin_map.h>
#include <vector>

namespace tarewell::ledger {

using quantity::day;
using quantity::decimal;
using quantity::money;
using quantity::weight;
using quantity::weight_unit;

// Each kind of record has its own id and its own place in the season's vectors.
using site_id = quantity::id<struct site_tag>;
using grower_id = quantity::id<struct grower_tag>;
using scale_id = quantity::id<struct scale_tag>;
using registration_id = quantity::id<struct registration_tag>;
using bundle_id = quantity::id<struct bundle_tag>;
using bale_id = quantity::id<struct bale_tag>;
using shipment_id = quantity::id<struct shipment_tag>;
using site_place = quantity::place<struct site_tag>;
using grower_place = quantity::place<struct grower_tag>;
using scale_place = quantity::place<struct scale_tag>;
using registration_place = quantity::place<struct registration_tag>;
using bundle_place = quantity::place<struct bundle_tag>;
using bale_place = quantity::place<struct bale_tag>;
using shipment_place = quantity::place<struct shipment_tag>;

/// The grower of bundles found without a label.
inline constexpr std::string_view unknown_grower = "unknown";

enum class match_base { none, total, grant };
enum class counting { weighed, shipped, accepted };
enum class outcome { accepted, rejected, held };
enum class stage { site, baler, processor };
enum class subject { bundle, bale, load };
enum class fund { grant, match };

/// What every record carries: its entry in force, and its place in the order of entry (a correction
/// keeps the place of what it corrects).
struct recorded {
    entry_no entry = 0;
    entry_no order = 0;
};

struct award : recorded {
    std::string id, agency, program, region;
    day begins, ends;
    decimal goal_tons;
    int quarter_starts = 1;
    weight_unit unit = weight_unit::lb;
    std::optional<decimal> match_percent, indirect_percent;
    match_base base = match_base::none;
    counting counted_when = counting::weighed;
    [[nodiscard]] quantity::quarter_calendar calendar() const { return quantity::quarter_calendar{quarter_starts}; }
};

struct site : recorded {
    site_id id;
    std::string name, town, host;
};

struct grower : recorded {
    grower_id id;
    std::string name, farm, town, region;
    bool erased = false; ///< contact details were erased on request
};

struct scale : recorded {
    scale_id id;
    std::string location, class_name;
    decimal capacity, division;
    weight_unit unit = weight_unit::lb;
    std::optional<day> certified_on, certified_until;
};

struct cover : recorded {
    registration_place registration;
    std::string id, structure, film;
    std::optional<estimate::cover_size> size; ///< none: length, width and layers not given
    bool gives_thickness = false;
};

struct registration {
    registration_id id;
    day date;
    grower_place grower;
    site_place site;
    std::vector<std::size_t> covers;
    std::vector<bundle_place> bundles;
};

struct bundle : recorded {
    bundle_id id;
    registration_place registration;
    std::int64_t number = 1, of = 1;
    std::optional<weight> own_estimate;
};

struct receipt : recorded {
    std::string id, reason, disposition;
    day date;
    site_place site;
    bundle_place bundle;
    ledger::outcome outcome = outcome::accepted;
};

struct haul_row : recorded {
    std::string haul, driver;
    day date;
    site_place from, to;
    bundle_place bundle;
};

struct bale_row : recorded {
    bale_place bale;
    bundle_place bundle;
};

struct bale {
    bale_id id;
    day date;
    site_place site;
    std::vector<bundle_place> bundles; ///< as pressed, in order of entry
    entry_no first_row = 0;            ///< entry of its first row
};

struct reject : recorded {
    std::string id, reason, disposition;
    day date;
    ledger::stage stage = stage::site;
    bundle_place bundle;
    bale_place bale;
    std::optional<weight> rejected_weight;
    bool has_document = false;
};

struct shipment {
    shipment_id id;
    day date;
    std::string processor, carrier, bill_of_lading;
    std::vector<bale_place> bales;
};

struct shipment_row : recorded {
    shipment_place shipment;
    bale_place bale;
};

struct ticket : recorded {
    std::string id;
    day date;
    scale_place scale;
    ledger::subject weighs = subject::bale;
    bundle_place bundle;
    bale_place bale;
    shipment_place load;
    std::optional<decimal> gross, tare;
    decimal net;
    weight_unit unit = weight_unit::lb;
    weight net_weight;
    bool as_printed = false, manual = false, has_document = false;
};

struct acceptance : recorded {
    shipment_place shipment;
    day date;
    weight accepted_weight;
    bool has_document = false;
};

struct budget_line : recorded {
    std::string category;
    money grant, match;
};

struct cost : recorded {
    std::string id, category, description, source, subaward;
    day date;
    money amount;
    ledger::fund fund = fund::grant;
    std::optional<day> paid_on;
    bool has_document = false;
};

struct inkind : recorded {
    std::string id, kind, giver, source;
    day date;
    site_place site;
    decimal quantity, rate;
    money value;
    bool has_document = false;
};

/// A dated change of the award's terms; what it leaves empty goes on as it was.
struct amendment : recorded {
    std::string id, why;
    day date;
    std::optional<day> ends;
    std::optional<decimal> goal_tons, match_percent, indirect_percent;
    match_base base = match_base::none;
};

/// New amounts of a budget line, from its amendment's date on.
struct rebudget : recorded {
    std::string amendment, category;
    money grant, match;
};

/// What an hour, a mile or a use is worth at most, from a day on.
struct rate : recorded {
    std::string id, kind, what, source;
    day begins;
    decimal value;
};

struct obligation : recorded {
    std::string id, category, description;
    day date;
    money amount;
    ledger::fund fund = fund::grant;
    bool has_document = false;
};

/// What of an obligation became a cost, or was let go.
struct liquidation : recorded {
    std::string id, cost;
    day date;
    std::size_t obligation = 0; ///< its place in the season
    money amount;
};

/// Program income earned, or spent on what the award allows.
struct income : recorded {
    std::string id, description, cost;
    day date;
    bool earned = true, deducts = true; ///< deducts: the deduction alternative, else the addition alternative
    money amount;
    bool has_document = false;
};

/// One cost claimed in a reimbursement request.
struct request_row : recorded {
    std::string request, document;
    day date;
    std::size_t cost = 0; ///< its place in the season
    money indirect;       ///< of the whole request
};

enum class payment_kind { advance, reimbursement, retainage };

/// Money received from the agency, and what it kept back of it.
struct payment : recorded {
    std::string id, request;
    day date;
    payment_kind kind = payment_kind::advance;
    money amount, retained;
    bool has_document = false;
};

/// The coordinator's paragraphs for a quarter's report.
struct note : recorded {
    quantity::quarter quarter;
    std::string part, text;
};

struct closing : recorded {
    quantity::quarter quarter;
    entry_no as_of = 0;
    std::string head_hash, prepared_by, reviewed_by, certified_by, accepted, figures;
};

/// A source document kept beside the ledger by its hash.
struct document : recorded {
    std::string record, sha256, name; ///< record: "ticket T0001"
    std::int64_t bytes = 0;
};

struct setting : recorded {
    std::string name, value;
    std::optional<day> from;
};

/// Everything in force at one sequence, by kind, ids resolved to places. The grower `unknown` is
/// always there, at place 0.
struct season {
    season();

    std::optional<ledger::award> the_award;
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
    std::vector<closing> closings;
    std::vector<document> documents;

    /// The award's terms in force on a day: as awarded, with the amendments dated by then.
    [[nodiscard]] ledger::award terms_on(day on) const;
    /// The budget in force on a day.
    [[nodiscard]] std::vector<budget_line> budget_on(day on) const;
    /// The closing of a quarter, or null.
    [[nodiscard]] const closing* closing_of(quantity::quarter quarter) const;

    /// Adds one checked record. Throws ledger_error when it names an id that nothing defines.
    void add(const row& values, entry_no entry, entry_no order);

    [[nodiscard]] site_place find_site(std::string_view id) const;
    [[nodiscard]] grower_place find_grower(std::string_view id) const;
    [[nodiscard]] scale_place find_scale(std::string_view id) const;
    [[nodiscard]] registration_place find_registration(std::string_view id) const;
    [[nodiscard]] bundle_place find_bundle(std::string_view id) const;
    /// By what the label says; a default place when there is no such bundle.
    [[nodiscard]] bundle_place find_bundle(registration_place registration, std::int64_t number) const;
    [[nodiscard]] bale_place find_bale(std::string_view id) const;
    [[nodiscard]] shipment_place find_shipment(std::string_view id) const;
    /// True when a record of `which` with this id (for covers, its registration) is there.
    [[nodiscard]] bool defines(kind which, std::string_view id) const;
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

    /// The text of a setting in force on a day, or its default (see settings.hpp).
    [[nodiscard]] std::string setting_on(std::string_view name, std::optional<day> on) const;
    [[nodiscard]] estimate::constants constants_on(std::optional<day> on) const;

  private:
    struct text_hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
    };
    struct mixed_hash {
        std::size_t operator()(std::uint64_t key) const { return (key ^ (key >> 29U)) * 0x9E3779B97F4A7C15U; }
    };
    template <class Place> using index_of = tsl::robin_map<std::string, Place, text_hash, std::equal_to<>>;
    index_of<site_place> site_index_;
    index_of<grower_place> grower_index_;
    index_of<scale_place> scale_index_;
    index_of<registration_place> registration_index_;
    index_of<bundle_place> bundle_index_;
    tsl::robin_map<std::uint64_t, bundle_place, mixed_hash> label_index_;
    index_of<bale_place> bale_index_;
    index_of<shipment_place> shipment_index_;
    index_of<std::size_t> cost_index_, obligation_index_, request_index_;
    /// What a label says: the registration's place and the bundle's number, in one number.
    static std::uint64_t label_key(registration_place registration, std::int64_t number) {
        return (std::uint64_t{registration.index()} << 32U) | static_cast<std::uint32_t>(number);
    }
    friend class season_adder;
};

/// A cover's sizes; its row gives length, width and layers.
estimate::cover_size size_of_cover(const row& values);

/// Reads everything in force as of `seq`. `see` is shown each row on the way.
season load_season(const ledger_file& from, entry_no seq, const std::function<void(const stored_row&)>& see = {});

} // namespace tarewell::ledger
