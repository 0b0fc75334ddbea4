#pragma once
#include "figures/table.hpp"
#include "reconcile/side_by_side.hpp"

namespace tarewell::figures {

/// Makes the evidence tables; one function a table.
class table_maker {
  public:
    table_maker(const ledger::season& season, const reconcile::reckoning& reckoned, const basis& on, bool with_names)
        : s_{season}, r_{reckoned}, on_{on}, with_names_{with_names} {}

    [[nodiscard]] table by_site() const;
    [[nodiscard]] table by_grower() const;
    [[nodiscard]] table by_word(reconcile::grouping by) const;
    [[nodiscard]] table bales() const;
    [[nodiscard]] table tickets() const;
    [[nodiscard]] table bundles() const;
    [[nodiscard]] table receipts() const;
    [[nodiscard]] table rejects() const;
    [[nodiscard]] table acceptances() const;
    [[nodiscard]] table costs() const;
    [[nodiscard]] table inkind() const;
    [[nodiscard]] table budget() const;
    [[nodiscard]] table requests() const;
    [[nodiscard]] table payments() const;
    [[nodiscard]] table obligations() const;
    [[nodiscard]] table program_income() const;
    [[nodiscard]] table flags() const;

  private:
    [[nodiscard]] std::vector<cell> bundle_row(std::size_t index) const;
    [[nodiscard]] std::vector<cell> bale_row(std::size_t index) const;
    [[nodiscard]] std::vector<cell> ticket_row(const ledger::ticket& ticket) const;

    const ledger::season& s_;
    const reconcile::reckoning& r_;
    const basis& on_;
    bool with_names_;
};

} // namespace tarewell::figures
