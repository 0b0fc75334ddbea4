#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"
#include "intake/mapped.hpp"
#include "intake/undo.hpp"

namespace tarewell::desk {

// Other people's sheets: how they are laid out, what they would become; and taking a deed back.

/// Every map with the number of its rules; or one, as the text file that would make it.
answer maps_of(const looked_at& at);
answer map_of(const looked_at& at, const std::string& name);
/// What a map can say.
answer rules_of_maps();

/// "grower G071: name Ilse Brandt, town Wend"
std::string record_told(const intake::mapped_record& record);
/// What each row of a sheet becomes by a map: the first rows and the odd ones in full, faults that repeat in one line
/// with their rows; for machines, all. Found where something is refused.
answer preview_of(const intake::mapped_intake& taken);

/// What of a sheet's rows is worth a look, a line each with its rows; a file that is known as a whole says nothing.
std::string doubts_of(const intake::mapped_sheet& sheet);

/// A refusal's line with what forms call the columns that its keys name: "unit.covers.length_ft: the unit of 'Length,
/// ft' of a cover of a registration".
std::string with_words_of_keys(std::string line);
std::vector<std::string> with_words_of_keys(std::vector<std::string> lines);

/// Lines of a refusal, "FILE:LINE:COLUMN: what; what would be right", where those that repeat but for the value are
/// told once with their lines.
std::vector<std::string> told_together(const std::vector<std::string>& lines);
/// What likely made many of them alike: a spreadsheet program that turned dates round. Empty where nothing did.
std::string likely_cause(const std::vector<std::string>& lines);

/// What an undo would void, and what stands in its way: found then.
answer undo_preview(const ledger::ledger_file& of, const std::vector<std::int64_t>& acts);
/// What was done and when, an act a line: what `undo` names.
answer acts_of(const looked_at& at);

} // namespace tarewell::desk
