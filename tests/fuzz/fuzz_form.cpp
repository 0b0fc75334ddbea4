// Feeds any bytes to the readers of forms. What the one for names and values accepts must be what a simple splitter
// (below, written apart from it) gives, and nothing it refuses may be well formed; what the one for files gives must
// stand in the bytes, and a form that we write is read back as it was.
#include "office/form_reader.hpp"
#include "office/http.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>

using namespace tarewell::office;

namespace {

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "a form is read wrongly: %s\n", what);
    std::abort();
}

using pairs = std::vector<std::pair<std::string, std::string>>;

/// One character at a time, every place it may be in as a state.
std::optional<pairs> split(const std::string& text, const form_limits& within) {
    if (text.empty()) return pairs{};
    pairs all(1);
    bool in_value = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '&') {
            if (i + 1 == text.size()) break;
            all.emplace_back();
            in_value = false;
            continue;
        }
        if (text[i] == '=' && !in_value) {
            in_value = true;
            continue;
        }
        char c = text[i] == '+' ? ' ' : text[i];
        if (c == '%') {
            const auto hex = text.substr(i + 1, 2);
            if (hex.size() != 2 || hex.find_first_not_of("0123456789abcdefABCDEF") != std::string::npos)
                return std::nullopt;
            c = static_cast<char>(std::strtol(hex.c_str(), nullptr, 16));
            i += 2;
        }
        if (c == '\0') return std::nullopt;
        (in_value ? all.back().second : all.back().first) += c;
    }
    if (all.size() > within.fields) return std::nullopt;
    for (const auto& [name, value] : all)
        if (name.empty() || name.size() > within.name || value.size() > within.value) return std::nullopt;
    return all;
}

void compare_with_splitter(const std::string& text) {
    const form_limits within{5, 20, 40, 200};
    const auto simple = split(text, within);
    const auto read = read_urlencoded(text, within);
    need(simple.has_value() == read.has_value(), "one accepts what the other refuses");
    if (!read) return;
    need(simple->size() == read->fields().size(), "number of fields");
    for (std::size_t i = 0; i < simple->size(); ++i)
        need((*simple)[i].first == read->fields()[i].name && (*simple)[i].second == read->fields()[i].value, "a field");
}

void check_multipart(const std::string& text) {
    const form_limits within{5, 20, 40, 200};
    const auto read = read_multipart(text, "x", within);
    if (!read) return;
    need(read->fields().size() <= within.fields, "more fields than the limit");
    for (const auto& each : read->fields()) {
        need(!each.name.empty() && each.name.size() <= within.name, "a name past the limit");
        need(each.file_name || each.value.size() <= within.value, "a value past the limit");
        need(text.find(each.value) != std::string::npos && text.find(each.name) != std::string::npos,
             "bytes from nowhere");
        need(each.value.find("\r\n--x") == std::string::npos, "a boundary inside a value");
    }
}

/// Bytes as a file and as a field come back as they were.
void check_round_trip(const std::string& bytes) {
    if (("\r\n" + bytes).find("\r\n--edge") == std::string::npos) {
        const auto read = read_multipart(
            "--edge\r\nContent-Disposition: form-data; name=\"f\"; filename=\"n\"\r\n\r\n" + bytes + "\r\n--edge--\r\n",
            "edge");
        need(read && read->fields().size() == 1 && read->fields()[0].value == bytes, "a file comes back changed");
    }
    if (bytes.find('\0') == std::string::npos && bytes.size() < 4096) {
        const auto read = read_urlencoded("f=" + in_query(bytes));
        need(read && read->text("f") == bytes, "a field comes back changed");
    }
}

/// Headers that a browser might send: nothing is found in them that does not stand there.
void check_cookie(const std::string& text) {
    const request asked{"GET", "/", {{"cookie", text}}};
    if (const auto found = asked.cookie("c"))
        need(text.find("c=" + std::string{*found}) != std::string::npos, "a cookie");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const std::string text{reinterpret_cast<const char*>(data), size};
    compare_with_splitter(text);
    check_multipart(text);
    check_multipart("--x\r\nContent-Disposition: form-data; name=\"a\"" + text);
    check_round_trip(text);
    check_cookie(text);
    (void)read_form(text.substr(0, 60), text);
    return 0;
}
