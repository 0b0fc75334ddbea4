#pragma once
#include "ledger/ledger.hpp"

#include <map>
#include <string>
#include <unordered_set>
#include <vector>

namespace tarewell::desk {

/// Values by column name.
using typed_values = std::map<std::string, std::string>;

/// What people say again and again until they say something else: the day, words, site and scale, who did it.
bool is_said_again(const records::column& of);

/// What a person who enters records of one kind, one after the other, need not type: the next id in the pattern of the
/// last, the day, and what people keep saying (site, scale, unit, weigher). The first record follows the last of the
/// ledger, each other one the one before.
class next_record {
  public:
    /// `today` as "2026-10-03". Reads the ledger's records of the kind once. The file must outlive it.
    next_record(const ledger::ledger_file& file, records::kind which, std::string today);

    /// The columns to ask for: those that are needed, those that one of the last records of the kind gives, and what
    /// `all` adds: the rest.
    [[nodiscard]] std::vector<const records::column*> asked(bool all) const;
    /// What is proposed for a column, where the record says this much already; empty where nothing is.
    [[nodiscard]] std::string proposed(const records::column& of, const typed_values& so_far) const;
    void took(const typed_values& values);
    [[nodiscard]] const std::string& today() const { return today_; }

  private:
    [[nodiscard]] std::string unit_of_scale(const std::string& scale) const;

    const ledger::ledger_file& file_;
    const records::kind_info& kind_;
    std::string today_;
    typed_values last_;
    std::unordered_set<std::string> given_; ///< columns that one of the last records gives
};

/// Gross less tare, exactly; empty where one of them is no number, or the tare is more.
std::string net_of(const typed_values& values);

/// What the net of a corrected ticket becomes where its gross or tare is another and the net is left as it was: gross
/// less tare. Empty where the net is told too, is right as it stands, or stands as the ticket prints it. `after` holds
/// what was changed, or every value.
std::string net_reworked(const typed_values& before, const typed_values& after);

/// A day as people type it, as "2026-10-03": that itself, "today", "yesterday", "10-3" of the year of `about`, or "3"
/// of its month. Other text comes back as it is.
std::string day_as_typed(const std::string& text, const std::string& today, const std::string& about);

} // namespace tarewell::desk
