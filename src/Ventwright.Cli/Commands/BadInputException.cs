using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>Something that the person gave on the command line cannot be used. The message is all that is printed.</summary>
internal sealed class BadInputException(string message) : RefusedException(message);
