namespace Ventwright.Drawing;

/// <summary>The rows of a module's block: inputs down the left side, outputs and feedback down the right, in the order of the sheet.</summary>
internal static class ModulePins
{
    public const double Header = 20;

    /// <summary>Inputs have longer names than outputs, which are called after the id of what they drive.</summary>
    private const double InputsShare = 0.53;

    /// <summary>Gives the module its height and every port of it a row.</summary>
    public static void Arrange(SketchNode module)
    {
        double row = module.Pins.Select(p => p.Height).DefaultIfEmpty(Sizes.Row).Max();
        int left = 0, right = 0, marks = 0;
        foreach (SketchPort port in module.Ports)
        {
            SketchNode? pin = module.Pins.Find(p => p.Id == port.Node);
            if (pin is null && port.Conductor is null)
            {
                (port.Left, port.Offset) = (true, 3 + (6 * marks++));
                continue;
            }

            if (port.Conductor is null) port.Left = pin!.Kind == "module-input";
            port.Offset = Header + (row * ((port.Left ? left++ : right++) + 0.5));
        }

        foreach (SketchNode pin in module.Pins.Where(p => module.Ports.TrueForAll(q => q.Node != p.Id)))
        {
            bool isLeft = pin.Kind == "module-input";
            module.Ports.Add(new(module, pin.Id, PortMark.None) { Left = isLeft, Offset = Header + (row * ((isLeft ? left++ : right++) + 0.5)) });
        }

        module.Height = Header + (row * Math.Max(1, Math.Max(left, right))) + 4;
    }

    /// <summary>Puts the pins into the block once it has its place.</summary>
    public static void Place(SketchNode module)
    {
        foreach (SketchNode pin in module.Pins)
        {
            SketchPort port = module.Ports.Find(p => p.Node == pin.Id)!;
            double inputs = Math.Round(module.Width * InputsShare);
            pin.Width = port.Left ? inputs : module.Width - inputs;
            (pin.X, pin.Y) = (port.Left ? module.X : module.X + inputs, port.Y - (pin.Height / 2));
            pin.Ports.Add(new(pin, pin.Id, port.Mark) { Left = port.Left, Offset = pin.Height / 2, Conductor = port.Conductor });
        }
    }
}
