#pragma once
#include "records/complaints.hpp"

#include <vector>

namespace tarewell::intake {

/// The place in the kind's columns of each name of a file's header, in the header's order. Returns false, with every
/// fault complained of, when it is no header of this kind's file.
bool read_header(const std::vector<std::string_view>& names, records::kind which, std::vector<std::size_t>& places,
                 const records::complaint& complain);

} // namespace tarewell::intake
