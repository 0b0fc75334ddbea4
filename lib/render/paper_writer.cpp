#include "render/paper_writer.hpp"

#include "intake/csv.hpp"
#include "ledger/whole_file.hpp"
#include "render/paper_template.hpp"
#include "render/qr_code.hpp"
#include "render/template_text.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

using desk::value;

/// An empty text is missing: its section is left out.
value without_empty(const value& of) {
    if (const auto* text = of.text(); text != nullptr && text->empty()) return nullptr;
    if (const auto* all = of.list()) {
        auto made = value::array();
        for (const auto& each : *all)
            made.push_back(without_empty(each));
        return made;
    }
    if (const auto* fields = of.named()) {
        auto made = value::object();
        for (const auto& [name, inner] : *fields)
            made[name] = without_empty(inner);
        return made;
    }
    return of;
}

value with_codes(const value& rows) {
    auto made = value::array();
    for (auto row : *rows.list()) {
        if (const auto* id = row.find("id"); id != nullptr && id->text() != nullptr) row["qr"] = qr_code(*id->text());
        made.push_back(std::move(row));
    }
    return made;
}

std::string field(const value* of) {
    if (of == nullptr || of->is_null()) return "";
    return of->text() != nullptr ? intake::csv_field(*of->text()) : of->json(false);
}

bool is_on_stock(const desk::paper& what) { return what.sheet == "labels" || what.sheet == "bale_tags"; }

std::string page_text(const desk::paper& what, const paper_look& how) {
    auto pages = value::array();
    if (is_on_stock(what))
        pages = labels_on_sheets(what, how);
    else
        for (auto page : what.pages) {
            page["rows"] = with_codes(*page.find("rows"));
            pages.push_back(std::move(page));
        }
    value data{{"title", what.title},
               {"program", how.program},
               {"contact", how.contact},
               {"printed_on", how.printed_on},
               {"as_of", std::to_string(how.as_of)},
               {"paper", how.on.heading},
               {"paper_css", how.on.in_css},
               {"is_letter", what.sheet == "rejection"}, // pages to different people, not counted through
               {"pages", std::move(pages)}};
    const auto look = paper_template_for(what.sheet, how.templates, data);
    return fill_template(look.form.file, look.form.text, without_empty(data), look.parts);
}

} // namespace

std::string paper_csv(const desk::paper& what) {
    std::string text;
    for (const auto& column : what.columns)
        text += (text.empty() ? "" : ",") + column;
    text += "\r\n";
    for (const auto& page : what.pages)
        for (const auto& row : *page.find("rows")->list()) {
            for (std::size_t i = 0; i < what.columns.size(); ++i) {
                const auto* of = row.find(what.columns[i]);
                text += (i == 0 ? "" : ",") + field(of != nullptr ? of : page.find(what.columns[i]));
            }
            text += "\r\n";
        }
    return text;
}

paper_written write_paper(const desk::paper& what, const paper_look& how) {
    if (how.file.ends_with(".csv")) {
        ledger::write_whole(how.file, paper_csv(what));
        return {0, how.first_label};
    }
    ledger::write_whole(how.file, page_text(what, how));
    if (!is_on_stock(what)) return {};
    const auto on_a_sheet = how.stock.on_a_sheet(), end = how.first_label - 1 + what.rows();
    return {(end + on_a_sheet - 1) / on_a_sheet, end % on_a_sheet + 1};
}

} // namespace tarewell::render
