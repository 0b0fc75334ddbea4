#pragma once
#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::intake {

/// The parts of a zip file in memory, unpacked as they are read. What is damaged, encrypted or larger than a workbook
/// of a season can be throws `unreadable`.
class zip_parts {
  public:
    static constexpr std::size_t most_parts = 4'096;
    static constexpr std::size_t most_unpacked = std::size_t{1} << 30U; ///< bytes of one part
    /// A sheet of numbers shrinks to a tenth; DEFLATE's utmost is 1,032. Looked at past `ratio_from` bytes.
    static constexpr std::size_t most_ratio = 200;
    static constexpr std::size_t ratio_from = std::size_t{16} << 20U;

    /// The bytes must outlive it.
    explicit zip_parts(std::string_view bytes);
    ~zip_parts();
    zip_parts(const zip_parts&) = delete;
    zip_parts& operator=(const zip_parts&) = delete;

    /// Names are read whatever their case.
    [[nodiscard]] bool has(std::string_view name) const;

    /// As the file writes them, in the order of small letters.
    [[nodiscard]] std::vector<std::string> names() const;

    class stream {
      public:
        ~stream();
        stream(const stream&) = delete;
        stream& operator=(const stream&) = delete;
        /// The next bytes, at most `most`; 0 at the end, whose checksum was then held against the bytes.
        std::size_t read(char* into, std::size_t most);
        [[nodiscard]] std::size_t whole() const; ///< bytes unpacked, as the file says

      private:
        friend class zip_parts;
        struct implementation;
        explicit stream(std::unique_ptr<implementation> inside);
        std::unique_ptr<implementation> inside_;
    };
    /// Throws unreadable when there is no such part.
    [[nodiscard]] std::unique_ptr<stream> open(std::string_view name) const;

  private:
    struct implementation;
    std::unique_ptr<implementation> inside_;
};

} // namespace tarewell::intake
