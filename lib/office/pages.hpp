#pragma once
#include "desk/value.hpp"
#include "office/state.hpp"

namespace tarewell::office {

using desk::value;

/// A page of report_templates/office_NAME.mustache with what every page has around it.
response page(const state& of, const std::string& name, const std::string& title, value data, int status = 200);

/// A short page for what went wrong: what happened, and what to do next, a line each.
response message(const state& of, int status, const std::string& title, const std::vector<std::string>& lines);

/// What a stranger is told: nothing of the ledger, and no form.
response stranger_page();

/// "/record?kind=ticket&id=T0001"; with the second part of a key of two.
std::string record_link(std::string_view kind, std::string_view id, std::string_view second = {});

/// A list and any_NAME, for its section's heading.
void put_list(value& to, const std::string& name, value list);

// The look and the little script, as files of their own.
response style_file();
response script_file();

} // namespace tarewell::office
