namespace Ventwright.Rig;

/// <summary>What kind of trouble a rig has.</summary>
public enum RigTrouble
{
    /// <summary>A device cannot be reached at all.</summary>
    CannotOpen,

    /// <summary>Something answers, but it is not the device that the rig file names.</summary>
    WrongDevice,

    /// <summary>No answer in time.</summary>
    NoAnswer,

    /// <summary>An answer that makes no sense.</summary>
    Garbage,

    /// <summary>The device understood and said no.</summary>
    Refused,

    /// <summary>The line to the device broke.</summary>
    LostContact,

    /// <summary>The wiring check was not confirmed yet.</summary>
    NotConfirmed,

    /// <summary>A value outside what the rig file allows.</summary>
    OutOfLimits,

    /// <summary>The rig was asked for something that it does not have or cannot do.</summary>
    NotPossible,
}

/// <summary>Trouble with a rig, told to the person at the bench: where it is, what it is, what to do.</summary>
public sealed class RigException : Exception
{
    /// <summary>Makes the message <c>where: what</c>.</summary>
    /// <param name="trouble">Kind of trouble.</param>
    /// <param name="where">Device or channel as the rig file names it.</param>
    /// <param name="what">What is wrong and what to do, in words.</param>
    /// <param name="inner">What it came from, or null.</param>
    public RigException(RigTrouble trouble, string where, string what, Exception? inner = null)
        : base($"{where}: {what}", inner)
    {
        (Trouble, Where) = (trouble, where);
    }

    /// <summary>Kind of trouble.</summary>
    public RigTrouble Trouble { get; }

    /// <summary>Device or channel as the rig file names it.</summary>
    public string Where { get; }
}
