#pragma once
#include "ledger/neighbourhood.hpp"

namespace tarewell::desk {

using records::entry_no;

/// The paper around a record: what its doubts look at, found by the indexes without reading the season. From it the
/// same flags of that record follow as from the whole season, but for those that look at the latest paper of all
/// ("never-received") and at the names of more than the latest 500 growers; tests/desk/test_near_paper.cpp holds that
/// to the whole.
class near_paper {
  public:
    near_paper(const ledger::ledger_file& file, entry_no head) : file_{file}, head_{head}, near_{file, head} {}

    /// What a doubt about this record sees.
    void around(const records::row& centre);
    /// What doubts about others see that stand on this record: for its void.
    void around_all_it_moves(const records::row& centre);
    /// The latest bales with a ticket of their own, to hold a net against: at most so many tickets are looked at. The last
    /// to be taken in: their order of entry is not kept.
    void latest_weighed_bales(std::int64_t most);

    /// Without some entries: as if they had been voided. Entries of `told` know the day on which they were made.
    [[nodiscard]] records::season season(const std::vector<entry_no>& told,
                                         const std::set<entry_no>& voided = {}) const;

  private:
    void registration(const std::string& id);
    void all_of_registration(const std::string& id);
    void bundle(const std::string& id);
    void bundle_and_bale(const std::string& id);
    void bale(const std::string& id);
    void load(const std::string& id);
    void net_and_claims(const std::string& id);
    void money(const records::row& centre);
    void ticket(const records::row& centre);
    void latest_growers();
    void labelled(const records::row& centre);
    [[nodiscard]] std::vector<std::string> values_where(records::kind which, std::string_view column,
                                                        std::string_view text, std::string_view wanted) const;

    const ledger::ledger_file& file_;
    entry_no head_;
    ledger::neighbourhood near_;
    std::set<std::pair<records::kind, std::string>> seen_; ///< whole, by what is told of it
};

} // namespace tarewell::desk
