#pragma once
#include "intake/format_check.hpp"
#include "ledger/season.hpp"

#include <unordered_map>
#include <unordered_set>

namespace tarewell::intake {

/// Holds each record against the ones before it: ids that nothing defines, a bundle accepted twice
/// or in two bales, rows of one record that disagree, and the rest of the rules of the interchange
/// format that refuse. What is only flagged is not its business.
class checker {
  public:
    /// Begins with what is in the season already; the season must outlive the checker.
    explicit checker(ledger::season& season);

    /// Checks one row whose values' form is good. Returns true when it may be admitted.
    bool check(const ledger::row& values, const complaint& complain);
    /// Works out the row's whole numbers (thousandths of the award's unit, cents). The form is good.
    void work_out(ledger::row& values) const;
    /// Takes a checked row into the season. `line` is told back by `finish`.
    void admit(const ledger::row& values, ledger::entry_no entry, ledger::entry_no order, std::size_t line);
    /// Marks the id of a refused row as known, so that rows naming it aren't refused for that too.
    void excuse(const ledger::row& values);
    /// Marks every id of a kind as known, for a file that could not be read at all.
    void excuse_all(ledger::kind which);

    /// True when any row of a kind was refused, so that its absence is known already.
    [[nodiscard]] bool excuses_any(ledger::kind which) const;

    /// After the last row of a kind: what only the whole tells (estimates that leave nothing).
    void finish(ledger::kind which, const std::function<void(std::size_t line, std::string_view column,
                                                             std::string what, std::string right)>& complain);

  private:
    struct bundle_line {
        ledger::bundle_place bundle;
        std::size_t line;
    };
    bool check_references(const ledger::row& values, const complaint& complain, bool& excused) const;
    bool check_award(const ledger::row& values, const complaint& complain) const;
    bool check_grower(const ledger::row& values, const complaint& complain) const;
    bool check_scale(const ledger::row& values, const complaint& complain) const;
    /// What one cover with its sizes given is claimed to weigh by itself.
    [[nodiscard]] quantity::weight claim_of_cover(const ledger::row& values) const;
    bool check_cover(const ledger::row& values, const complaint& complain) const;
    bool check_bundle(const ledger::row& values, const complaint& complain) const;
    bool check_receipt(const ledger::row& values, const complaint& complain, bool& excused) const;
    bool check_haul(const ledger::row& values, const complaint& complain) const;
    bool check_bale(const ledger::row& values, const complaint& complain) const;
    bool check_reject(const ledger::row& values, const complaint& complain) const;
    bool check_shipment(const ledger::row& values, const complaint& complain) const;
    bool check_ticket(const ledger::row& values, const complaint& complain, bool& excused) const;
    bool check_cost(const ledger::row& values, const complaint& complain) const;
    bool check_inkind(const ledger::row& values, const complaint& complain) const;
    bool check_rate(const ledger::row& values, const complaint& complain) const;
    bool check_liquidation(const ledger::row& values, const complaint& complain) const;
    bool check_income(const ledger::row& values, const complaint& complain) const;
    bool check_request(const ledger::row& values, const complaint& complain) const;
    bool check_payment(const ledger::row& values, const complaint& complain) const;
    bool check_note(const ledger::row& values, const complaint& complain) const;
    bool check_amendment(const ledger::row& values, const complaint& complain) const;
    bool check_setting(const ledger::row& values, const complaint& complain) const;
    [[nodiscard]] bool is_excused(ledger::kind which, std::string_view id) const;
    [[nodiscard]] ledger::bundle_place bundle_named(const ledger::row& values) const;
    void note(const ledger::row& values);
    void note_liquidation(const ledger::liquidation& paid);
    void note_request(std::size_t row_of_request);

    ledger::season& season_;
    std::vector<bool> accepted_;                      ///< by bundle
    std::vector<ledger::bale_place> bale_of_;         ///< by bundle
    std::vector<ledger::shipment_place> shipment_of_; ///< by bale
    std::unordered_map<std::string, std::size_t> first_haul_row_;
    std::vector<std::int64_t> liquidated_;               ///< cents by obligation
    std::vector<std::optional<std::size_t>> claimed_in_; ///< by cost: its row in requests
    std::vector<bundle_line> new_bundles_;
    std::unordered_set<std::string> excused_;
    std::array<bool, ledger::kind_count> all_excused_{};
};

/// True for kinds whose records are counted or checked in the award's terms.
bool needs_award(ledger::kind which);

/// The value of a row of in-kind support: its amount, or quantity x rate.
quantity::money inkind_value(const ledger::row& values);

} // namespace tarewell::intake
