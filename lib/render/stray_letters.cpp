#include "render/stray_letters.hpp"

namespace tarewell::render {
namespace {

bool is_beyond_ascii(char c) { return static_cast<unsigned char>(c) >= 0x80U; }
bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

/// Walks over a TOML text and knows whether it is inside quotes or a comment.
class walker {
  public:
    explicit walker(std::string_view text) : text_{text} {}

    std::size_t run() {
        if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
        for (; at_ < text_.size(); ++at_) {
            const bool escapes = text_[at_] == '\\' && ends_.starts_with('"');
            if (escapes) pass_escaped();
            if (at_ == text_.size()) break;
            if (is_beyond_ascii(text_[at_]) && (ends_.empty() || escapes)) return line_;
            if (!escapes) step(text_[at_]);
        }
        return 0;
    }

  private:
    std::string_view text_;
    std::string_view ends_; ///< what ends the quotes or comment that it is in; empty: neither
    std::size_t at_ = 0, line_ = 1;

    /// From a backslash to what it escapes; one at a line's end passes over blanks, and what follows is not escaped.
    void pass_escaped() {
        const auto backslash = at_++;
        for (; at_ < text_.size() && is_blank(text_[at_]); ++at_)
            line_ += text_[at_] == '\n' ? 1 : 0;
        const bool passed = at_ > backslash + 1;
        if (passed && at_ < text_.size() && !is_beyond_ascii(text_[at_])) --at_;
    }

    void step(char c) {
        if (c == '\n') ++line_;
        if (ends_.empty()) {
            if (c == '#')
                ends_ = "\n";
            else if (c == '"' && may_begin_quotes())
                open(R"(""")");
            else if (c == '\'' && may_begin_quotes())
                open("'''");
        } else if (text_.substr(at_).starts_with(ends_)) {
            at_ += ends_.size() - 1;
            ends_ = {};
        } else if (c == '\n' && ends_.size() == 1) {
            ends_ = {}; // quotes end with their line, closed or not
        }
    }

    /// A quote right behind a bare word begins nothing; the parser takes it for a part of that word.
    [[nodiscard]] bool may_begin_quotes() const {
        return at_ == 0 || std::string_view{" \t\r\n=,[{."}.find(text_[at_ - 1]) != std::string_view::npos ||
               text_.substr(0, at_) == "\xEF\xBB\xBF";
    }

    void open(std::string_view three) {
        const bool long_one = text_.substr(at_).starts_with(three);
        ends_ = long_one ? three : three.substr(0, 1);
        if (long_one) at_ += 2;
    }
};

} // namespace

std::size_t line_of_stray_letter(std::string_view text) { return walker{text}.run(); }

} // namespace tarewell::render
