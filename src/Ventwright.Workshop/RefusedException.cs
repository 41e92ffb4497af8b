namespace Ventwright.Workshop;

/// <summary>Something that a person gave cannot be used. The message says what, where, and what to do; it is all that is shown.</summary>
public class RefusedException : Exception
{
    /// <summary>Makes the exception with no more than a general message.</summary>
    public RefusedException() : base("This cannot be used.")
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, where, and what to do about it.</param>
    public RefusedException(string message) : base(message)
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, where, and what to do about it.</param>
    /// <param name="innerException">What led to it.</param>
    public RefusedException(string message, Exception innerException) : base(message, innerException)
    {
    }
}
