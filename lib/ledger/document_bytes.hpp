#pragma once
// Only for the sources of this room.
#include "ledger/engine.hpp"

namespace tarewell::ledger {

/// document and keep_document of documents.hpp, for an engine whose ledger stands at `path`.
std::optional<std::string> document_in(engine& in, const std::string& path, const std::string& sha256);
void keep_document_in(engine& in, const std::string& path, const std::string& sha256, const std::string& bytes);

} // namespace tarewell::ledger
