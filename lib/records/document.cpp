#include "records/document.hpp"

#include "records/fields.hpp"

namespace tarewell::records {
namespace {

using a = fields_of<document>;
constexpr field<document> fields[] = {
    a::text<&document::record>("record").required(),
    a::id<&document::sha256>("sha256").required(),
    a::text<&document::name>("name").required(),
    a::number<&document::bytes>("bytes", column_type::count).required(),
};

} // namespace

constinit const kind_info document_kind = kind_made<document, fields, no_numbers<document>>(
    {kind::document, "document", "documents", "record", "sha256", {}, belongs::to_the_program});
constinit const coded_kind document_coded = coded_made<document, fields, no_numbers<document>>(kind::document);

void admit(document&& made, season& to) { to.documents.push_back(std::move(made)); }

} // namespace tarewell::records
