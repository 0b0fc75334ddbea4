#include "render/csv_files.hpp"

#include "intake/csv.hpp"
#include "ledger/whole_file.hpp"
#include "ledger/whole_folder.hpp"
#include "render/layout_fill.hpp"
#include "render/page_data.hpp"
#include "render/report_tables.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

using desk::value;
constexpr const char* line_end = "\r\n";

std::string field(const figures::cell& of) {
    const auto text = exact_text(of);
    return std::holds_alternative<std::string>(of) ? intake::csv_field(text) : intake::csv_number(text);
}

std::string figures_csv(const figures::report& report) {
    std::string text = fmt::format("name,value,unit,evidence,meaning,reason{}", line_end);
    for (const auto& each : report.figures)
        text +=
            fmt::format("{},{},{},{},{},{}{}", each.name, figures::text_of(each.value), intake::csv_field(each.unit),
                        each.rows, intake::csv_field(each.meaning), intake::csv_field(each.reason), line_end);
    return text;
}

std::string csv_text(const sheet_data& sheet) {
    std::string text;
    for (std::size_t c = 0; c < sheet.columns.size(); ++c)
        text += (c == 0 ? "" : ",") + intake::csv_field(sheet.columns[c].heading);
    text += line_end;
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
        for (std::size_t c = 0; c < sheet.columns.size(); ++c)
            text += (c == 0 ? "" : ",") + field(sheet.at(r, c));
        text += line_end;
    }
    return text;
}

std::string csv_text(const figures::table& of) {
    std::string text;
    for (std::size_t c = 0; c < of.columns.size(); ++c)
        text += (c == 0 ? "" : ",") + of.columns[c].name;
    text += line_end;
    for (const auto& row : of.rows) {
        for (std::size_t c = 0; c < row.size(); ++c)
            text += (c == 0 ? "" : ",") + field(row[c]);
        text += line_end;
    }
    return text;
}

/// "By site" gives by_site.csv; a second one by_site_2.csv.
std::string file_name(const std::string& sheet, const csv_files& before) {
    std::string word;
    for (const char c : sheet) {
        const auto byte = static_cast<unsigned char>(c);
        word += byte < 0x80 && std::isalnum(byte) == 0 ? '_' : static_cast<char>(std::tolower(byte));
    }
    auto name = word + ".csv";
    for (int number = 2; before.contains(name); ++number)
        name = fmt::format("{}_{}.csv", word, number);
    return name;
}

/// Lists of a page's data that are no tables, each as a file of its own.
class list_writer {
  public:
    explicit list_writer(csv_files& files) : files_{files} {}

    void group(const value& of, const std::string& name) {
        for (const auto& [key, inner] : *of.named()) {
            if (inner.list() != nullptr)
                list(inner, name + "_" + key, {}, {});
            else if (inner.named() != nullptr)
                group(inner, name + "_" + key);
        }
    }

    void list(const value& rows, const std::string& name, const std::string& outer_name, const std::string& outer) {
        for (const auto& row : *rows.list()) {
            if (row.named() == nullptr) continue;
            const auto& fields = *row.named();
            auto& text = files_[name + ".csv"];
            const bool inside = !outer_name.empty();
            if (text.empty())
                text = line_of(fields, inside ? outer_name + "," : "", [](const auto& field) { return field.name; });
            text += line_of(fields, inside ? intake::csv_field(outer) + "," : "",
                            [](const auto& field) { return said(field.of); });
            for (const auto& [key, inner] : fields)
                if (inner.list() != nullptr)
                    list(inner, name + "_" + key, fields.front().name,
                         fields.front().of.text() != nullptr ? *fields.front().of.text() : "");
        }
    }

  private:
    csv_files& files_;

    static std::string said(const value& of) {
        if (of.text() != nullptr) return intake::csv_field(*of.text());
        if (of.yes_or_no() != nullptr) return *of.yes_or_no() ? "yes" : "no";
        return "";
    }

    template <class Write>
    static std::string line_of(const value::fields& fields, const std::string& before, Write write) {
        std::string text = before;
        bool first = true;
        for (const auto& each : fields) {
            if (each.of.list() != nullptr || each.of.named() != nullptr || each.name.starts_with("any_")) continue;
            text += (first ? "" : ",") + write(each);
            first = false;
        }
        return text + line_end;
    }
};

/// Tables behind what a page draws or groups.
std::set<std::string> tables_behind(const std::string& name) {
    if (name == "chart") return {"months", "causes", "money", "bales"};
    if (name == "flag_groups") return {"flags"};
    if (name == "money_total" || name == "money_unclassed") return {"money"};
    return {name};
}

} // namespace

csv_files csv_of(const layout& of, const page_input& input) {
    csv_files files{{"figures.csv", figures_csv(input.report)}};
    for (const auto& each : fill_layout(of, input).sheets)
        if (each.source != nullptr) files[file_name(each.name, files)] = csv_text(each);
    return files;
}

csv_files csv_of(const std::set<std::string>& used, const page_input& input) {
    csv_files files{{"figures.csv", figures_csv(input.report)}};
    const auto tables = report_tables(input);
    std::set<std::string> others;
    for (const auto& each : used) {
        const auto name = each.starts_with("any_") ? each.substr(4) : each;
        bool known = false;
        for (const auto& word : tables_behind(name))
            if (const auto table = tables.called(word)) files[word + ".csv"] = csv_text(*table), known = true;
        if (!known) others.insert(name);
    }
    if (others.contains("tie_out_ties")) others.insert("tie_out");
    if (others.empty()) return files;
    const auto data = page_data(input, others);
    list_writer writer{files};
    for (const auto& name : others) {
        const auto* found = data.find(name);
        if (name == "figures" || name == "figure" || found == nullptr) continue;
        if (found->list() != nullptr)
            writer.list(*found, name, {}, {});
        else if (found->named() != nullptr)
            writer.group(*found, name);
    }
    return files;
}

void write_csv_folder(const std::string& folder, const csv_files& files) {
    ledger::whole_folder made{folder};
    for (const auto& [name, text] : files)
        ledger::write_whole((made.partial() / name).string(), text);
    made.put_in_place();
}

} // namespace tarewell::render
