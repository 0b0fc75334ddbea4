#pragma once
#include "audit/slips.hpp"
#include "figures/audit_input.hpp"

#include <string>
#include <vector>

namespace tarewell::figures {

/// Claims that were made in the same way for the same kind of structure, and so are held against each other.
struct cover_class {
    records::basis basis = records::basis::constant;
    std::string structure; ///< "mixed" where a registration's covers differ, empty where they don't say
};

/// What a registration's covers are of, in small letters: "mixed" where they differ, empty where they don't say.
std::string structure_of(const records::season& season, records::registration_place registration);

/// "constant, high tunnel"
std::string name_of(const cover_class& of);

/// The audit with slips looked for first: what is to be checked, and what can be said of each grower meanwhile.
struct fair_audit {
    audit::slip_season season; ///< rows, bundles, growers and sites as in the input that it was made of
    std::vector<cover_class> classes;
    std::vector<records::registration_place> registrations;
    audit::slip_report report;
};

/// The input's rows with their classes and registrations.
fair_audit fair_input_of(const audit_input& input, const records::season& season);

/// Looks for slips and calls growers: one way for all commands, tables and forms. The tolerance is a share, 0.1 for ten
/// percent. Takes from a blink to minutes, by the season's size.
fair_audit fair_audit_of(const audit_input& input, const records::season& season, double tolerance = 0.10);

/// False for the grower `unknown`, in whose name nobody claimed anything, and where nothing can be said of one.
bool has_ratio(const fair_audit& of, int grower);

/// Something to check, as the office does it: a ticket's paper, a registration's form, or one of several.
struct audit_check {
    std::vector<std::string> tickets;
    std::vector<std::string> registrations;
    std::vector<int> growers; ///< whose registrations
    double probability = 0.0; ///< that there is a slip
    std::string sentence;
};

/// The likeliest first.
std::vector<audit_check> checks_of(const fair_audit& of, const audit_input& input, const records::season& season);

/// "runs high", "runs low", "fits", "check first", "too little data"
std::string words_of(audit::fair_call call);

/// "98 %", "over 99 %", "under 1 %"
std::string chance_in_words(double probability);
/// A ratio of weight to claim with at most three digits: "0.64", "12.3", "over 100".
std::string ratio_in_words(double ratio);
/// The same of a hundred: "64", "over 999".
std::string of_hundred(double ratio);
/// "64 lb for each 100 lb claimed (95 % interval 57 to 73)"
std::string share_in_words(const audit::fair_grower& of, const std::string& unit);

} // namespace tarewell::figures
