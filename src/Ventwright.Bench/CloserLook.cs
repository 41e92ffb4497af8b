using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A closer look at what leads.</summary>
/// <param name="Swaps">Known-good parts to swap in, best first; only where no other check tells the leading suspects apart.</param>
/// <param name="Size">Size of the leading suspect's fault, or null when it has no sizes.</param>
/// <param name="SheetLines">Lines of the sheet that would fit all readings clearly better if changed; best first.</param>
public sealed record CloserLook(IReadOnlyList<SwapAdvice> Swaps, FaultSize? Size, IReadOnlyList<SheetLine> SheetLines);

/// <summary>A known-good part to swap in, and the check to make again then.</summary>
/// <param name="Part">Id of the part.</param>
/// <param name="Setting">How the unit is to stand.</param>
/// <param name="What">What to look at again.</param>
/// <param name="Place">Where.</param>
/// <param name="Minutes">Minutes for the swap and the check.</param>
/// <param name="Gain">Expected drop of the entropy over the leading line's sets, in bits.</param>
/// <param name="Why">The advice in words.</param>
public sealed record SwapAdvice(string Part, Setting Setting, Observable What, Place Place, double Minutes, double Gain, string Why);

/// <summary>How large a fault is, by the readings.</summary>
/// <param name="Family">The fault without its size.</param>
/// <param name="Parameter">Index of the parameter that it changes.</param>
/// <param name="Quantity">Its name.</param>
/// <param name="Nominal">Its value in a sound unit, SI.</param>
/// <param name="Value">Its most likely value, SI.</param>
/// <param name="Low">One standard deviation below, SI; minus infinity where the readings set no limit.</param>
/// <param name="High">One standard deviation above, SI; infinity where the readings set no limit.</param>
public sealed record FaultSize(string Family, int Parameter, string Quantity, double Nominal, double Value, double Low, double High);

/// <summary>A line of the sheet that would fit the readings if changed.</summary>
/// <param name="At">Where the sheet describes the part.</param>
/// <param name="Part">Id of the part.</param>
/// <param name="Parameter">Index of the parameter.</param>
/// <param name="Quantity">Name of the parameter.</param>
/// <param name="Now">Its value on the sheet, SI.</param>
/// <param name="WouldFit">The value that would fit, SI.</param>
/// <param name="LogGain">How much more likely the readings become than under the best explanation by faults: natural logarithm of the ratio.</param>
public sealed record SheetLine(Mark At, string Part, int Parameter, string Quantity, double Now, double WouldFit, double LogGain);
