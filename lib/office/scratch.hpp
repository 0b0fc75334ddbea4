#pragma once
#include <string>
#include <string_view>

namespace tarewell::office {

/// A folder that nobody else may look into, taken away with all in it at the end.
class scratch_folder {
  public:
    /// Throws records::io_error where none can be made.
    scratch_folder();
    ~scratch_folder();
    scratch_folder(const scratch_folder&) = delete;
    scratch_folder& operator=(const scratch_folder&) = delete;

    /// The path for a file of this name, of which only plain letters of the last part are kept.
    [[nodiscard]] std::string path_for(std::string_view name) const;
    /// Writes a file; returns its path. Throws records::io_error.
    [[nodiscard]] std::string write(std::string_view name, std::string_view bytes) const;

  private:
    std::string path_;
};

/// The last part of a file's name, with letters, digits, blanks and ._- alone; never empty, never only dots.
std::string plain_name(std::string_view name);

/// All of a file. Throws records::io_error.
std::string bytes_of(const std::string& path);

} // namespace tarewell::office
