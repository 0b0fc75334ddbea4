#include "intake/xml_events.hpp"

#include "intake/row_reader.hpp"

#include <expat.h>
#include <fmt/format.h>

#include <exception>
#include <new>

namespace tarewell::intake {
namespace {

constexpr char between = '|'; // of namespace and name

std::string_view without_namespace(std::string_view name) {
    const auto end = name.rfind(between);
    return end == std::string_view::npos ? name : name.substr(end + 1);
}

struct frees {
    void operator()(XML_Parser of) const { XML_ParserFree(of); }
};

} // namespace

std::string_view xml_attributes::operator[](std::string_view name) const {
    for (const char** each = pairs_; *each != nullptr; each += 2)
        if (without_namespace(each[0]) == name) return each[1];
    return {};
}

struct xml_events::implementation {
    xml_listener& to;
    std::string part;
    std::unique_ptr<std::remove_pointer_t<XML_Parser>, frees> parser;
    int depth = 0;
    std::size_t without_event = 0; ///< bytes
    std::exception_ptr thrown = {};

    /// An exception must not pass through expat's frames.
    template <class Body> void guarded(Body&& body) {
        without_event = 0;
        if (thrown) return;
        try {
            body();
        } catch (...) {
            thrown = std::current_exception();
            XML_StopParser(parser.get(), XML_FALSE);
        }
    }
    [[noreturn]] void refuse(const std::string& what) const {
        throw unreadable(fmt::format("the file's part {} {}", part, what),
                         "open it in the spreadsheet program and save it again as .xlsx");
    }
};

xml_events::xml_events(xml_listener& to, std::string part) : inside_{new implementation{to, std::move(part), {}}} {
    auto& in = *inside_;
    in.parser.reset(XML_ParserCreateNS("UTF-8", between));
    if (!in.parser) throw std::bad_alloc{};
    auto* parser = in.parser.get();
    XML_SetUserData(parser, &in);
    XML_SetElementHandler(
        parser,
        [](void* of, const XML_Char* name, const XML_Char** attributes) {
            auto& me = *static_cast<implementation*>(of);
            me.guarded([&] {
                if (++me.depth > most_depth) me.refuse(fmt::format("has elements more than {} deep", most_depth));
                me.to.begins(without_namespace(name), xml_attributes{attributes});
            });
        },
        [](void* of, const XML_Char* name) {
            auto& me = *static_cast<implementation*>(of);
            me.guarded([&] {
                --me.depth;
                me.to.ends(without_namespace(name));
            });
        });
    XML_SetCharacterDataHandler(parser, [](void* of, const XML_Char* text, int length) {
        auto& me = *static_cast<implementation*>(of);
        me.guarded([&] { me.to.text({text, static_cast<std::size_t>(length)}); });
    });
    XML_SetStartDoctypeDeclHandler(parser, [](void* of, const XML_Char*, const XML_Char*, const XML_Char*, int) {
        auto& me = *static_cast<implementation*>(of);
        me.guarded([&] { me.refuse("declares a document type, which no workbook does"); });
    });
}

xml_events::~xml_events() = default;

std::size_t xml_events::told_from() const {
    return static_cast<std::size_t>(XML_GetCurrentByteIndex(inside_->parser.get()));
}

std::size_t xml_events::told_to() const {
    return told_from() + static_cast<std::size_t>(XML_GetCurrentByteCount(inside_->parser.get()));
}

void xml_events::feed(std::string_view piece, bool last) {
    auto& in = *inside_;
    constexpr std::size_t at_once = 65'536;
    do {
        const auto some = piece.substr(0, at_once);
        piece.remove_prefix(some.size());
        in.without_event += some.size();
        const bool end = last && piece.empty();
        const auto status =
            XML_Parse(in.parser.get(), some.data(), static_cast<int>(some.size()), end ? XML_TRUE : XML_FALSE);
        if (in.thrown) std::rethrow_exception(in.thrown);
        if (status == XML_STATUS_ERROR) {
            if (XML_GetErrorCode(in.parser.get()) == XML_ERROR_NO_MEMORY) throw std::bad_alloc{};
            in.refuse(fmt::format("is damaged: {} (line {})", XML_ErrorString(XML_GetErrorCode(in.parser.get())),
                                  XML_GetCurrentLineNumber(in.parser.get())));
        }
        if (in.without_event > longest_markup) in.refuse("has a piece of markup of more than 1 MB");
    } while (!piece.empty());
}

} // namespace tarewell::intake
