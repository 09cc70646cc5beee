from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('labour', '0003_learning'),
    ]

    operations = [
        migrations.AddField(
            model_name='plannedtask',
            name='cutting',
            field=models.DecimalField(decimal_places=2, default=1, max_digits=5),
        ),
        migrations.AddConstraint(
            model_name='plannedtask',
            constraint=models.CheckConstraint(condition=models.Q(('cutting__gt', 0)), name='planned_task_cutting_positive'),
        ),
    ]
