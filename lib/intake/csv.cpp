#include "intake/csv.hpp"

#include <algorithm>
#include <cstring>

namespace tarewell::intake {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

} // namespace

std::optional<csv_fault> fault_of_file(std::string_view text) {
    const auto fault = [](std::string what, std::string right) {
        return csv_fault{1, 0, std::move(what), std::move(right)};
    };
    const std::string save = "open it in the spreadsheet program and save the sheet as CSV UTF-8";
    if (text.empty() || text == byte_order_mark) return fault("the file is empty", "its first line names the columns");
    if (text.starts_with("PK\x03\x04") || text.starts_with("PK\x05\x06"))
        return fault("the file is a spreadsheet (or another zip file), not CSV", save);
    if (text.starts_with("\xD0\xCF\x11\xE0")) return fault("the file is an old spreadsheet, not CSV", save);
    if (text.starts_with("%PDF")) return fault("the file is a PDF, not CSV", "give a CSV file");
    const bool every_other_byte_is_nul =
        text.size() > 3 && (text[0] == '\0' || text[1] == '\0') && (text[2] == '\0' || text[3] == '\0');
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF") || every_other_byte_is_nul)
        return fault("the file is UTF-16, not UTF-8", "save it as CSV UTF-8");
    if (text.find('\n') == std::string_view::npos && text.find('\r') != std::string_view::npos)
        return fault("lines end in a carriage return alone", "end lines with LF or CR LF");
    return std::nullopt;
}

csv_reader::csv_reader(std::string_view text, char separator) : text_{text}, separator_{separator} {
    if (text_.starts_with(byte_order_mark)) at_ = byte_order_mark.size();
}

void csv_reader::complain(const csv_record& record, std::optional<csv_fault>& fault, std::string what,
                          std::string right) {
    if (!fault) fault = csv_fault{record.line, record.fields.size(), std::move(what), std::move(right)};
}

void csv_reader::complain_of_last(const csv_record& record, std::optional<csv_fault>& fault, std::string what,
                                  std::string right) {
    if (!fault) fault = csv_fault{record.line, record.fields.size() - 1, std::move(what), std::move(right)};
}

void csv_reader::skip_line() {
    const auto end = text_.find('\n', at_);
    at_ = end == std::string_view::npos ? text_.size() : end + 1;
    ++line_;
}

bool csv_reader::end_of_record() {
    if (at_ == text_.size()) return true;
    if (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++at_;
    if (text_[at_] != '\n') return false;
    ++at_;
    ++line_;
    return true;
}

bool csv_reader::read_quoted(csv_record& record, std::optional<csv_fault>& fault) {
    ++at_;
    const std::size_t start = at_;
    std::size_t lines = 0;
    bool doubled = false;
    while (true) {
        const auto* found = static_cast<const char*>(
            at_ < text_.size() ? std::memchr(text_.data() + at_, '"', text_.size() - at_) : nullptr);
        if (found == nullptr) {
            complain(record, fault, "a quoted value is not closed before the end of the file",
                     "close it with a double quote");
            record.fields.push_back(text_.substr(start));
            at_ = text_.size();
            return false;
        }
        const auto end = static_cast<std::size_t>(found - text_.data());
        lines += static_cast<std::size_t>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(at_),
                                                     text_.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
        at_ = end + 1;
        if (at_ == text_.size() || text_[at_] != '"') break;
        doubled = true;
        ++at_;
    }
    line_ += lines;
    const auto inside = text_.substr(start, at_ - 1 - start);
    if (!doubled) {
        record.fields.push_back(inside);
        return true;
    }
    std::string& plain = unquoted_.emplace_back();
    for (std::size_t i = 0; i < inside.size(); ++i) {
        plain += inside[i];
        if (inside[i] == '"') ++i;
    }
    record.fields.push_back(plain);
    return true;
}

bool csv_reader::read_plain(csv_record& record, std::optional<csv_fault>& fault) {
    const std::size_t start = at_;
    while (at_ < text_.size()) {
        const char c = text_[at_];
        if (c == separator_ || c == '\n') break;
        if (c == '\r') {
            if (at_ + 1 < text_.size() && text_[at_ + 1] == '\n') break;
            complain(record, fault, "a carriage return stands inside a value",
                     "end lines with LF or CR LF, and put a value with line breaks in double quotes");
            return false;
        }
        if (c == '"') {
            complain(record, fault, "a double quote stands inside a value without quotes around it",
                     "put the whole value in double quotes and write each quote inside twice");
            return false;
        }
        ++at_;
    }
    record.fields.push_back(text_.substr(start, at_ - start));
    return true;
}

bool csv_reader::read_field(csv_record& record, std::optional<csv_fault>& fault) {
    if (at_ == text_.size() || text_[at_] != '"') return read_plain(record, fault);
    if (!read_quoted(record, fault)) return false;
    if (at_ == text_.size() || text_[at_] == separator_ || text_[at_] == '\n' || text_[at_] == '\r') return true;
    complain_of_last(record, fault, "text follows a closing quote",
                     "put the whole value in double quotes and write each quote inside twice");
    return false;
}

bool csv_reader::next(csv_record& record, std::optional<csv_fault>& fault) {
    record.fields.clear();
    fault.reset();
    if (at_ >= text_.size()) return false;
    unquoted_.clear();
    record.line = line_;
    while (true) {
        if (!read_field(record, fault)) {
            if (at_ < text_.size()) skip_line();
            return true;
        }
        if (at_ < text_.size() && text_[at_] == separator_) {
            ++at_;
            continue;
        }
        if (end_of_record()) return true;
        complain_of_last(record, fault, "a carriage return stands alone", "end lines with LF or CR LF");
        skip_line();
        return true;
    }
}

namespace {
std::string quoted_if_needed(std::string text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) {
        out += c;
        if (c == '"') out += '"';
    }
    return out + '"';
}
} // namespace

std::string csv_field(std::string_view text) {
    const bool formula = !text.empty() && std::string_view{"=+-@\t\r"}.find(text.front()) != std::string_view::npos;
    return quoted_if_needed((formula ? "'" : "") + std::string{text});
}

std::string csv_number(std::string_view text) { return quoted_if_needed(std::string{text}); }

} // namespace tarewell::intake
