#include "intake/workbook.hpp"

#include "intake/sheet_rows.hpp"
#include "records/kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <map>

namespace tarewell::intake {
namespace {

const char* const save_again = "open it in the spreadsheet program and save it again as .xlsx";

/// Reads a whole part into a listener.
void read_part(const zip_parts& parts, const std::string& name, xml_listener& to) {
    const auto part = parts.open(name);
    xml_events events{to, name};
    std::array<char, 65'536> piece{};
    while (true) {
        const auto some = part->read(piece.data(), piece.size());
        events.feed({piece.data(), some}, some == 0);
        if (some == 0) return;
    }
}

/// "xl/worksheets/sheet1.xml": a target, which is told from the folder of the part that names it, or from the top.
std::string part_name(const std::string& folder, std::string_view target) {
    if (target.starts_with('/')) return std::string{target.substr(1)};
    return (std::filesystem::path{folder} / target).lexically_normal().string();
}

/// What a part points to: by the id of each relation, and those of outside.
struct relations : xml_listener {
    struct one {
        std::string type, target;
    };
    std::map<std::string, one> by_id;

    relations(const zip_parts& parts, const std::string& folder, const std::string& file) : folder_{folder} {
        read_part(parts, (std::filesystem::path{folder} / "_rels" / (file + ".rels")).string(), *this);
    }
    /// The part of a type, such as "styles"; empty where there is none.
    [[nodiscard]] std::string of_type(std::string_view type) const {
        for (const auto& [id, each] : by_id)
            if (each.type == type) return each.target;
        return {};
    }

  private:
    void begins(std::string_view element, const xml_attributes& with) override {
        if (element != "Relationship") return;
        const auto type = with["Type"];
        by_id[std::string{with["Id"]}] = {std::string{type.substr(type.rfind('/') + 1)},
                                          with["TargetMode"] == "External" ? std::string{}
                                                                           : part_name(folder_, with["Target"])};
    }
    void ends(std::string_view /*element*/) override {}
    void text(std::string_view /*some*/) override {}
    std::string folder_;
};

struct sheet_list : xml_listener {
    struct one {
        std::string name, id;
        bool hidden;
    };
    std::vector<one> sheets;
    bool epoch_1904 = false;

  private:
    void begins(std::string_view element, const xml_attributes& with) override {
        if (element == "workbookPr") epoch_1904 = with["date1904"] == "1" || with["date1904"] == "true";
        if (element == "sheet")
            sheets.push_back({std::string{with["name"]}, std::string{with["id"]},
                              !with["state"].empty() && with["state"] != "visible"});
    }
    void ends(std::string_view /*element*/) override {}
    void text(std::string_view /*some*/) override {}
};

unsigned number_of(std::string_view text) {
    unsigned value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

struct style_list : xml_listener {
    std::vector<number_format> formats;

  private:
    void begins(std::string_view element, const xml_attributes& with) override {
        if (element == "numFmt") codes_[number_of(with["numFmtId"])] = read_number_format(with["formatCode"]);
        if (element == "cellXfs") in_cells_ = true;
        if (element != "xf" || !in_cells_) return;
        const auto number = number_of(with["numFmtId"]);
        const auto found = codes_.find(number);
        formats.push_back(found == codes_.end() ? built_in_format(number) : found->second);
    }
    void ends(std::string_view element) override {
        if (element == "cellXfs") in_cells_ = false;
    }
    void text(std::string_view /*some*/) override {}
    std::map<unsigned, number_format> codes_;
    bool in_cells_ = false;
};

/// Texts that cells share; runs of a rich text follow each other, and what tells its reading (rPh) is left out.
struct string_list : xml_listener {
    std::vector<std::string> strings;

  private:
    void begins(std::string_view element, const xml_attributes& /*with*/) override {
        if (element == "si") strings.emplace_back();
        if (element == "rPh") ++phonetic_;
        if (element == "t") capturing_ = phonetic_ == 0 && !strings.empty();
    }
    void ends(std::string_view element) override {
        if (element == "rPh") --phonetic_;
        if (element == "t") capturing_ = false;
    }
    void text(std::string_view some) override {
        if (!capturing_) return;
        strings.back() += some;
        size_ += some.size();
        if (size_ > most) throw unreadable("the workbook's texts take more than 256 MB", "split it into several files");
    }
    static constexpr std::size_t most = std::size_t{256} << 20U;
    std::size_t size_ = 0;
    int phonetic_ = 0;
    bool capturing_ = false;
};

/// The names in an OLE file are UTF-16.
std::string wide(std::string_view text) {
    std::string made;
    for (const char c : text)
        (made += c) += '\0';
    return made;
}

void refuse_other_files(std::string_view bytes) {
    if (bytes.empty()) throw unreadable("the file is empty", "save the sheet again");
    if (bytes.starts_with("\xD0\xCF\x11\xE0")) {
        if (bytes.find(wide("EncryptedPackage")) != std::string_view::npos)
            throw unreadable("the file is protected by a password", "take the password off in the spreadsheet program");
        throw unreadable("the file is a spreadsheet of the old kind (.xls)", save_again);
    }
    if (bytes.starts_with("<") || bytes.starts_with("\xEF\xBB\xBF<"))
        throw unreadable("the file is a web page or XML, not an .xlsx workbook, whatever its name says", save_again);
    if (!bytes.starts_with("PK")) throw unreadable("the file is no .xlsx workbook, whatever its name says", save_again);
    constexpr std::string_view type_of_ods = "mimetypeapplication/vnd.oasis.opendocument";
    if (bytes.substr(0, 128).find(type_of_ods) != std::string_view::npos)
        throw unreadable("the file is an OpenDocument file (.ods)", save_again);
}

} // namespace

bool is_workbook_name(std::string_view path) {
    for (const std::string_view ending : {".xlsx", ".xlsm"})
        if (path.size() > ending.size() && records::same_but_for_case(path.substr(path.size() - ending.size()), ending))
            return true;
    return false;
}

std::string column_letters(std::size_t column) {
    std::string made;
    for (++column; column > 0; column = (column - 1) / 26)
        made.insert(made.begin(), static_cast<char>('A' + (column - 1) % 26));
    return made;
}

workbook::workbook(std::string_view bytes) {
    refuse_other_files(bytes);
    parts_ = std::make_unique<zip_parts>(bytes);
    if (!parts_->has("[Content_Types].xml") || !parts_->has("_rels/.rels"))
        throw unreadable("the file is a zip file and no .xlsx workbook", save_again);
    find_sheets();
}

workbook::~workbook() = default;

void workbook::find_sheets() {
    const auto main = relations{*parts_, "", ""}.of_type("officeDocument");
    if (main.empty()) throw unreadable("the file is a zip file and no .xlsx workbook", save_again);
    if (!main.ends_with(".xml"))
        throw unreadable(fmt::format("the workbook is of another kind than .xlsx ({})", main), save_again);
    part_ = main;
    const std::filesystem::path path{main};
    const relations told{*parts_, path.parent_path().string(), path.filename().string()};
    sheet_list list;
    read_part(*parts_, main, list);
    tables_.epoch_1904 = list.epoch_1904;
    for (auto& each : list.sheets) {
        const auto found = told.by_id.find(each.id);
        if (found == told.by_id.end())
            throw unreadable(fmt::format("the sheet '{}' is missing", each.name), save_again);
        if (found->second.type == "worksheet" && !found->second.target.empty())
            sheets_.push_back({std::move(each.name), found->second.target, each.hidden});
    }
    if (sheets_.empty()) throw unreadable("the workbook has no sheet with cells", save_again);
    if (const auto part = told.of_type("styles"); !part.empty()) read_styles(part);
    if (const auto part = told.of_type("sharedStrings"); !part.empty()) read_strings(part);
    if (!told.of_type("vbaProject").empty()) notes_.emplace_back("the workbook holds macros: they are not run");
    if (!told.of_type("externalLink").empty())
        notes_.emplace_back("the workbook links to others: they are not opened, values are those it was saved with");
}

void workbook::read_styles(const std::string& part) {
    style_list list;
    read_part(*parts_, part, list);
    tables_.formats = std::move(list.formats);
}

void workbook::read_strings(const std::string& part) {
    string_list list;
    read_part(*parts_, part, list);
    tables_.strings = std::move(list.strings);
}

std::unique_ptr<row_reader> workbook::rows(const workbook_sheet& of, std::size_t header_row) const {
    return std::make_unique<sheet_rows>(parts_->open(of.part), of.name, tables_, header_row);
}

} // namespace tarewell::intake
