#pragma once
#include "desk/places.hpp"
#include "office/pages.hpp"

// The views: each answers one address, GET or POST. Nothing is reckoned in them: they ask the desk.
namespace tarewell::office {

response show_today(state& of, const call& from);

response show_sites(state& of, const call& from); ///< all, or one in full

response show_kinds(state& of, const call& from); ///< what can be entered
response show_entry(state& of, const call& from); ///< an empty form of a kind
response take_entry(state& of, const call& from);
response show_call(state& of, const call& from); ///< a grower calls: a registration with its covers and bundles
response take_call(state& of, const call& from);
response show_change(state& of, const call& from); ///< a record's values to correct
response take_change(state& of, const call& from);
response take_void(state& of, const call& from);

response show_found(state& of, const call& from);
response show_record(state& of, const call& from);
response take_document(state& of, const call& from);
response give_document(state& of, const call& from);

response show_quarter(state& of, const call& from);
response show_flags(state& of, const call& from);
response give_form(state& of, const call& from); ///< a quarter's workbook, page or other form
response take_closing(state& of, const call& from);
response take_withdrawal(state& of, const call& from);

response show_files(state& of, const call& from);
response take_file(state& of, const call& from); ///< looks at a file that was sent in, or takes in the one looked at
response give_records(state& of, const call& from);
response show_map(state& of, const call& from); ///< a kept map
response take_map(state& of, const call& from); ///< tries a map on a sheet, or keeps it and imports the sheet
response show_acts(state& of, const call& from);
response show_undo(state& of, const call& from); ///< what taking an act back would void
response take_undo(state& of, const call& from);
response take_merge(state& of, const call& from);
response give_evidence(state& of, const call& from); ///< a quarter's evidence folder, as one .zip

response show_audit(state& of, const call& from);
response take_confirmation(state& of, const call& from);

response show_who(state& of, const call& from);
response take_who(state& of, const call& from);

/// The kind that a call names. Throws records::input_error for none, and for one that no person records.
const records::kind_info& kind_of(const form& named);
/// A key's parts: `id`, and `second` where it is given.
std::vector<std::string> key_of(const form& named);
/// The entry that a record stands by: its last row's, or the void's; what a correction would replace. 0 where the
/// ledger never had it.
records::entry_no stands_as(const ledger::ledger_file& file, const records::kind_info& kind,
                            const std::vector<std::string>& key);

/// A site's line of a table, for a page.
value site_for_page(const desk::site_stock& of, quantity::day on, const std::string& unit);

/// The act of an entry; 0 for none.
std::int64_t act_of(const ledger::ledger_file& file, records::entry_no entry);
/// A text's lines, the empty ones left out.
std::vector<std::string> lines_of(const std::string& text);

} // namespace tarewell::office
