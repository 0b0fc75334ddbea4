#pragma once
#include "records/season.hpp"

#include <optional>

namespace tarewell::reconcile {

/// Accuracy classes of NIST Handbook 44, section 2.20.
enum class accuracy_class { ii, iii, iii_l, iiii };

/// Reads "II", "III", "III L" (also "IIIL", "III-L") or "IIII"; empty for any other class, whose
/// tolerance is not known here.
std::optional<accuracy_class> read_accuracy_class(std::string_view text);

/// Maintenance tolerance in scale divisions for a load of `divisions` (Handbook 44, table 6: class III
/// and III L from a copy of the 2023 edition, II and IIII from memory).
std::int64_t tolerance_divisions(accuracy_class of, std::int64_t divisions);

/// Recommended minimum load in divisions (the same, table 8): III 20, III L 50, IIII 10; II none.
std::int64_t minimum_load_divisions(accuracy_class of);

/// The tolerance of a ticket's scale for its net, in thousandths of the award's unit; 0 for a class
/// that isn't known.
quantity::weight tolerance_of(const records::season& season, const records::ticket& ticket);

/// A ticket's net in divisions of its scale, rounded down; the units are brought together exactly.
std::int64_t net_in_divisions(const records::scale& scale, const records::ticket& ticket);

/// True when the net is a whole number of the scale's divisions (same unit only).
bool on_division(const records::scale& scale, const records::ticket& ticket);

/// The gross (without one, the net) beside the scale's capacity, and the tolerance of that load; a class that isn't
/// known has none.
enum class capacity { within, within_tolerance, beyond_tolerance };
capacity held_to_capacity(const records::scale& scale, const records::ticket& ticket);

} // namespace tarewell::reconcile
